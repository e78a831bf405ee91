/** For Vite and Rolldown: one source is read with one text in the place of another. @param at where that stands; where it stands first if left out */
export const mutating = ({ file, from, to, at }) => ({
  name: 'mutating',
  enforce: 'pre',
  transform(code, id) {
    if (!id.replaceAll('\\', '/').endsWith(`/${file}`)) return undefined;
    const place = at ?? code.indexOf(from);
    if (code.slice(place, place + from.length) !== from) throw new Error(`${file} does not hold ${from} at ${place}`);
    return code.slice(0, place) + to + code.slice(place + from.length);
  },
});
