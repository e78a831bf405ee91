import { CODE } from './kernel-code.ts';

/** The compiled loops of packages/core/kernel/kernel.as; places are addresses in bytes. */
interface Loops {
  readonly memory: { readonly buffer: ArrayBuffer; grow(pages: number): number };
  products(
    matrix: number,
    p: number,
    active: number,
    count: number,
    plain: number,
    weighted: number,
    tile: number,
  ): void;
  multiply(to: number, rows: number, length: number, from: number, count: number, factors: number, scale: number): void;
  factor(a: number, n: number): number;
  invert(l: number, t: number, out: number, n: number): void;
}

// What core needs of the engine's WebAssembly; its own types come with those of a page or of Node.
declare const WebAssembly: {
  Module: new (code: Uint8Array) => object;
  Instance: new (module: object) => { readonly exports: unknown };
};

const PAGE = 65_536;
const DOUBLE = 8;

/**
 * Loops over numbers, compiled (WebAssembly, two numbers at a time). Everything is copied in and out: nothing stays. Results are those of the
 * TypeScript that stands in where there is none, to the last bit.
 */
export class Kernel {
  readonly loops: Loops;
  #doubles = new Float64Array(0);

  private constructor(loops: Loops) {
    this.loops = loops;
  }

  /** Null where the engine has none, or a page's policy forbids it. */
  static create(): Kernel | null {
    try {
      const code = Uint8Array.from(CODE.match(/../g) ?? [], (digits) => parseInt(digits, 16));
      return new Kernel(new WebAssembly.Instance(new WebAssembly.Module(code)).exports as Loops);
    } catch {
      return null;
    }
  }

  /** The kernel's memory from address 0, at least so many numbers; good until it is asked for again. */
  doubles(count: number): Float64Array {
    const { memory } = this.loops;
    const missing = count * DOUBLE - memory.buffer.byteLength;
    if (missing > 0) memory.grow(Math.ceil(missing / PAGE));
    if (this.#doubles.buffer !== memory.buffer) this.#doubles = new Float64Array(memory.buffer);
    return this.#doubles;
  }

  /** Whole numbers in the same memory. */
  integers(): Int32Array {
    return new Int32Array(this.loops.memory.buffer);
  }
}

let made: Kernel | null | undefined;

export const kernel = (): Kernel | null => (made === undefined ? (made = Kernel.create()) : made);
