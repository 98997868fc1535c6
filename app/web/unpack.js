// Puts a packed WebAssembly module together again: what .build/pack.mjs took
// apart so that it travels in fewer bytes. The page uses it on a first visit; the
// service worker has it in itself, and keeps the module.
"use strict";

// What follows an opcode, and where it lies in a packed module. Opcodes that are
// not here have nothing after them.
const unpackKinds = (() => {
  const kinds = new Uint8Array(256);
  const put = (kind, from, to = from) => kinds.fill(kind, from, to + 1);
  put(1, 0x20, 0x24); // locals and globals: a number, beside the opcode
  put(2, 0x02, 0x04); // blocks: a type, beside it
  put(3, 0x0c, 0x0d); // branches
  put(4, 0x28, 0x3e); // memory: alignment beside it, offset apart
  put(5, 0x41); // 32-bit constants
  put(6, 0x42); // 64-bit constants of at most two bytes
  put(7, 0x10); // calls
  put(8, 0x0e); // tables of branches
  put(9, 0x0b); // end
  put(10, 0x11); // indirect calls: two numbers
  put(11, 0x43); // four bytes
  put(12, 0x44); // eight bytes
  put(13, 0xfc); // more opcodes
  put(14, 0x3f, 0x40); // memory size and growth: a byte
  put(15, 0xe0, 0xe8); // where a call returns to: counted on from the one before
  put(16, 0xe9, 0xea); // longer 64-bit constants
  return kinds;
})();

// unpackFunction writes the body of the function numbered f to the module, and
// moves at, where the next of each kind is read, and state.o, where it is written.
// It stands by itself, with nothing but locals in its loop, because the browser
// makes such a function fast: it is called ten thousand times.
function unpackFunction(state, f) {
  const { packed, out, at } = state;
  const kinds = unpackKinds;
  let { o } = state;
  let [ops, locals, branches, tables, offsets, small, wide, long, calls, odd, returns] = at;
  const start = o;
  o += 2; // the length is known at the end; most take two bytes
  let n = packed[locals];
  out[o++] = packed[locals++];
  for (; n > 0; n--) {
    while ((out[o++] = packed[locals++]) > 127);
    out[o++] = packed[locals++];
  }
  let place = (f + state.firstPlace) * 65536;
  for (let depth = 0; depth >= 0;) {
    const op = packed[ops++];
    const kind = kinds[op];
    if (kind < 15) out[o++] = op;
    switch (kind) {
      case 0: break;
      case 1: while ((out[o++] = packed[ops++]) > 127); break;
      case 2: depth++; out[o++] = packed[ops++]; break;
      case 3: { // written from the outside in
        let away = 0, shift = 0, b;
        do { b = packed[branches++]; away |= (b & 127) << shift; shift += 7; } while (b > 127);
        n = depth - away;
        for (; n > 127; n >>= 7) out[o++] = n & 127 | 128;
        out[o++] = n;
        break;
      }
      case 4:
        while ((out[o++] = packed[ops++]) > 127);
        while ((out[o++] = packed[offsets++]) > 127);
        break;
      case 5: while ((out[o++] = packed[small++]) > 127); break;
      case 6: while ((out[o++] = packed[wide++]) > 127); break;
      case 7: while ((out[o++] = packed[calls++]) > 127); break;
      case 8: {
        let count = 0, shift = 0, b;
        do { b = out[o++] = packed[tables++]; count |= (b & 127) << shift; shift += 7; } while (b > 127);
        for (let last = -1; count >= 0; count--) { // each counted on from the one before, up or down
          let step = 0;
          shift = 0;
          do { b = packed[tables++]; step |= (b & 127) << shift; shift += 7; } while (b > 127);
          last += 1 + (step & 1 ? -(step + 1 >> 1) : step >> 1);
          for (n = last; n > 127; n >>= 7) out[o++] = n & 127 | 128;
          out[o++] = n;
        }
        break;
      }
      case 9: depth--; break;
      case 10:
        while ((out[o++] = packed[odd++]) > 127);
        while ((out[o++] = packed[odd++]) > 127);
        break;
      case 11: for (let i = 0; i < 4; i++) out[o++] = packed[odd++]; break;
      case 12: for (let i = 0; i < 8; i++) out[o++] = packed[odd++]; break;
      case 13: {
        const more = out[o++] = packed[odd++];
        for (let i = more === 8 || more === 10 ? 2 : more === 9 || more === 11 ? 1 : 0; i > 0; i--) while ((out[o++] = packed[odd++]) > 127);
        break;
      }
      case 14: out[o++] = packed[odd++]; break;
      case 15: {
        place += 1 + (op < 0xe8 ? op - 0xe0 : packed[returns++]);
        out[o++] = 0x42;
        out[o++] = place & 127 | 128;
        out[o++] = place >> 7 & 127 | 128;
        out[o++] = place >> 14 & 127 | 128;
        out[o++] = place >> 21 & 127 | 128;
        out[o++] = place / 268435456;
        break;
      }
      case 16:
        out[o++] = 0x42;
        while ((out[o++] = packed[long++]) > 127);
        break;
      default: throw new Error("the packed module ends too soon");
    }
  }
  const size = o - start - 2;
  const wanted = size < 128 ? 1 : size < 16384 ? 2 : size < 2097152 ? 3 : 4;
  if (wanted !== 2) {
    out.copyWithin(start + wanted, start + 2, o);
    o += wanted - 2;
  }
  for (let i = 0, rest = size; i < wanted; i++, rest >>= 7) out[start + i] = rest & 127 | (i + 1 < wanted ? 128 : 0);
  state.o = o;
  state.at = [ops, locals, branches, tables, offsets, small, wide, long, calls, odd, returns];
}

// Arriving is a packed module as its bytes come; upTo waits for the first so many.
class Arriving {
  constructor(stream) {
    this.reader = stream.getReader();
    this.bytes = new Uint8Array(1 << 20);
    this.have = 0;
  }

  async upTo(wanted) {
    while (this.have < wanted) {
      const { value, done } = await this.reader.read();
      if (done) throw new Error("the packed module is not whole");
      if (this.have + value.length > this.bytes.length) {
        const more = new Uint8Array(2 * this.bytes.length + value.length);
        more.set(this.bytes.subarray(0, this.have));
        this.bytes = more;
      }
      this.bytes.set(value, this.have);
      this.have += value.length;
    }
  }
}

// unpackedParts gives the module in parts, in order, so that one is put together
// while the next is fetched and the one before compiled; it throws if what comes is
// not a whole packed module.
async function* unpackedParts(stream) {
  const packed = new Arriving(stream);
  let head = 0;
  const words = async (n) => {
    await packed.upTo(head + 4 * n);
    const view = new DataView(packed.bytes.buffer, head, 4 * n);
    head += 4 * n;
    return Array.from({ length: n }, (_, i) => view.getUint32(4 * i, true));
  };
  const [mark] = await words(1);
  if (mark !== 0x326b6370) throw new Error("this is not a packed module"); // "pck2"
  const [length, firstPlace, fixCount, blockCount, before, after] = await words(6);
  if (length > 1 << 28 || fixCount > 16 || blockCount > 64) throw new Error("the packed module is not whole");
  const fixes = [];
  while (fixes.length < fixCount) fixes.push(await words(4)); // what is undone in the data
  const blocks = [];
  while (blocks.length < blockCount) blocks.push(await words(12)); // how many functions, and how long each kind is

  const out = new Uint8Array(length);
  const state = { out, o: before, firstPlace, packed: null, at: null };
  let given = 0; // how much of it
  await packed.upTo(head + before);
  out.set(packed.bytes.subarray(head, head + before));
  head += before;
  let f = 0;
  for (const [functions, ...lengths] of blocks) {
    state.at = lengths.map((length) => (head += length) - length);
    await packed.upTo(head);
    state.packed = packed.bytes.subarray(0, head);
    for (const end = f + functions; f < end; f++) {
      unpackFunction(state, f);
      if (state.o - given > 1 << 18) {
        yield out.subarray(given, state.o);
        given = state.o;
      }
    }
  }
  const { o } = state;
  await packed.upTo(head + after);
  if (o + after !== length || packed.have !== head + after || !(await packed.reader.read()).done) throw new Error("the packed module is not whole");
  out.set(packed.bytes.subarray(head, head + after), o);
  const made = new DataView(out.buffer);
  for (const [kind, from, to, step] of fixes) {
    if (kind === 1) { // each word was written as what it is more than the one step bytes before
      for (let i = o + from + step; i < o + to; i += 4) made.setUint32(i, made.getUint32(i, true) + made.getUint32(i - step, true), true);
    } else { // each function's first word stands in the table of functions too
      for (let i = 0; i < step; i++) made.setUint32(o + to + made.getUint32(o + from + 8 * i + 4, true), made.getUint32(o + from + 8 * i, true), true);
    }
  }
  yield out.subarray(given);
}

// unpacked is a response with a module in it, whether it came packed or not.
function unpacked(response) {
  if (!response.ok || response.headers.get("content-type") === "application/wasm") return response;
  const parts = unpackedParts(response.body);
  const body = new ReadableStream({
    async pull(to) {
      const { value, done } = await parts.next();
      if (done) to.close(); else to.enqueue(value);
    },
  });
  return new Response(body, { headers: { "Content-Type": "application/wasm" } });
}
