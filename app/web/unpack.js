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

// unpackedParts gives the module in parts, in order, so that the browser can compile
// one while the next is put together; it throws if the bytes are not a packed module.
function* unpackedParts(packed) {
  const view = new DataView(packed.buffer, packed.byteOffset, packed.byteLength);
  let head = 4;
  const word = () => { head += 4; return view.getUint32(head - 4, true); };
  if (view.getUint32(0, true) !== 0x316b6370) throw new Error("this is not a packed module"); // "pck1"
  const [length, functions, firstPlace] = [word(), word(), word()];
  const fixes = Array.from({ length: word() }, () => [word(), word(), word(), word()]);
  const lengths = Array.from({ length: 13 }, word);
  const at = [head];
  for (const length of lengths) at.push(at.at(-1) + length);
  if (at[13] !== packed.length) throw new Error("the packed module is not whole");
  const [prefix, tail] = at;
  let [, , ops, locals, branches, tables, offsets, small, wide, long, calls, odd, returns] = at;

  const out = new Uint8Array(length);
  out.set(packed.subarray(prefix, prefix + lengths[0]));
  let o = lengths[0];
  let given = 0; // how much of it
  const kinds = unpackKinds;
  const put = (n) => {
    for (; n > 127; n >>= 7) out[o++] = n & 127 | 128;
    out[o++] = n;
  };
  for (let f = 0; f < functions; f++) {
    const start = o;
    o += 2; // the length is known at the end; most take two bytes
    let n = packed[locals];
    out[o++] = packed[locals++];
    for (; n > 0; n--) {
      while ((out[o++] = packed[locals++]) > 127);
      out[o++] = packed[locals++];
    }
    let place = (f + firstPlace) * 65536;
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
          put(depth - away);
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
            last += 1 + (step & 1 ? -(step + 1) / 2 : step / 2);
            put(last);
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
          let rest = place;
          for (let i = 0; i < 4; i++) { out[o++] = rest & 127 | 128; rest = Math.floor(rest / 128); }
          out[o++] = rest;
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
    if (o - given > 1 << 18) {
      yield out.subarray(given, o);
      given = o;
    }
  }
  out.set(packed.subarray(tail, tail + lengths[1]), o);
  const made = new DataView(out.buffer);
  for (const [kind, from, to, step] of fixes) {
    if (kind === 1) { // each word was written as what it is more than the one step bytes before
      for (let i = o + from + step; i < o + to; i += 4) made.setUint32(i, made.getUint32(i, true) + made.getUint32(i - step, true), true);
    } else { // each function's first word stands in the table of functions too
      for (let i = 0; i < step; i++) made.setUint32(o + to + made.getUint32(o + from + 8 * i + 4, true), made.getUint32(o + from + 8 * i, true), true);
    }
  }
  if (o + lengths[1] !== length) throw new Error("the packed module is not whole");
  yield out.subarray(given);
}

// unpackModule returns the module whole.
function unpackModule(packed) {
  let last;
  for (const part of unpackedParts(packed)) last = part;
  return new Uint8Array(last.buffer);
}

// unpacked is a response with a module in it, whether it came packed or not.
async function unpacked(response) {
  if (!response.ok || response.headers.get("content-type") === "application/wasm") return response;
  const parts = unpackedParts(new Uint8Array(await response.arrayBuffer()));
  const body = new ReadableStream({
    pull(to) {
      const { value, done } = parts.next();
      if (done) to.close(); else to.enqueue(value);
    },
  });
  return new Response(body, { headers: { "Content-Type": "application/wasm" } });
}
