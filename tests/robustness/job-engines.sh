#!/bin/bash
# Reads the demo session in parts under three job engines, merges the parts, and compares the bytes with an undivided run:
# plain processes, GNU parallel, and Slurm on one node. Needs root on Debian, and the network for the packages of the last two.
# Not part of `npm test`. Usage, after a build: bash tests/robustness/job-engines.sh [FOLDER with spectra; the demo by default]
set -euo pipefail
root=$(cd "$(dirname "$0")/../.." && pwd)
session=${1:-$root/data/demo}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
limner() { node "$root/apps/cli/bin/limner.js" "$@"; }
export -f limner
export root session work
# The day stands in the results: all runs get the same one.
export SOURCE_DATE_EPOCH=1700000000
cd "$work"

compare() {
  limner merge "$1"-part-* --out "$1" 2>/dev/null
  if diff -r --exclude=.limner whole "$1" > /dev/null; then echo "$1: same bytes as the undivided run"; else echo "$1: DIFFERS"; exit 1; fi
}

limner tag "$session" --quiet --out whole 2>/dev/null

for k in 1 2 3 4; do limner tag "$session" --quiet --workers 1 --part $k/4 --out processes-part-$k 2>/dev/null & done
wait
compare processes

command -v parallel > /dev/null || DEBIAN_FRONTEND=noninteractive apt-get install -qq -y parallel > /dev/null
parallel --will-cite limner tag "$session" --quiet --workers 1 --part {}/4 --out parallel-part-{} ::: 1 2 3 4 2>/dev/null
compare parallel

command -v slurmctld > /dev/null || DEBIAN_FRONTEND=noninteractive apt-get install -qq -y slurm-wlm munge > /dev/null
mkdir -p /run/munge /var/log/munge /var/spool/slurmd /var/spool/slurmctld
chown munge: /run/munge /var/log/munge
[ -f /etc/munge/munge.key ] || { dd if=/dev/urandom of=/etc/munge/munge.key bs=1 count=1024 status=none; chown munge: /etc/munge/munge.key; chmod 400 /etc/munge/munge.key; }
pgrep munged > /dev/null || runuser -u munge -- /usr/sbin/munged
host=$(hostname -s)
cat > "$work/slurm.conf" <<CONF
ClusterName=one
SlurmctldHost=$host
SlurmUser=root
SlurmdUser=root
AuthType=auth/munge
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
StateSaveLocation=$work/state
SlurmdSpoolDir=$work/spool
SlurmctldPidFile=$work/slurmctld.pid
SlurmdPidFile=$work/slurmd.pid
SlurmctldLogFile=$work/slurmctld.log
SlurmdLogFile=$work/slurmd.log
ReturnToService=2
NodeName=$host CPUs=$(nproc) State=UNKNOWN
PartitionName=all Nodes=$host Default=YES MaxTime=INFINITE State=UP
CONF
mkdir -p "$work/state" "$work/spool"
export SLURM_CONF=$work/slurm.conf
slurmctld
slurmd
trap 'kill $(cat "$work"/slurmctld.pid "$work"/slurmd.pid 2>/dev/null) 2>/dev/null || true; sleep 1; rm -rf "$work"' EXIT
cat > job.sh <<JOB
#!/bin/bash
#SBATCH --array=1-4
node "$root/apps/cli/bin/limner.js" tag "$session" --quiet --workers 1 --part \$SLURM_ARRAY_TASK_ID/4 --out "$work/slurm-part-\$SLURM_ARRAY_TASK_ID"
JOB
for _ in $(seq 30); do sinfo -h -o %T 2>/dev/null | grep -qE 'idle|mixed|alloc' && break; sleep 1; done
sbatch --wait --chdir="$work" job.sh > /dev/null || { tail -5 "$work"/slurm*.log; cat "$work"/slurm-*.out; exit 1; }
compare slurm
