// Packs a Go program for the browser so that it travels in fewer bytes: what is
// alike lies together, where brotli finds it, and what can be counted on from the
// one before is left out. app/web/unpack.js puts it together again, byte for
// byte; pack makes sure of it.
//
// Instructions keep their order, with locals, globals, block types and alignments
// beside them; their other operands lie apart, by what they mean. Where a call
// returns to (cmd/internal/obj/wasm: the function's number and a block's, in a
// 64-bit constant before every call) is counted on, and so are the entries of a table
// of branches; a branch is written from the outside in. In the data, the runtime's
// tables of functions (runtime/symtab.go: functab and findfunctab) are written as
// differences.
import fs from 'node:fs';
import path from 'node:path';
import vm from 'node:vm';
import { Bytes, sections } from './strip.mjs';

const firstPlace = 0x1000; // cmd/link/internal/wasm: funcValueOffset

const unpackedParts = vm.runInThisContext(`${fs.readFileSync(path.resolve(import.meta.dirname, '../app/web/unpack.js'), 'utf8')}; unpackedParts`);

// unpackModule returns the module whole; its promise fails where the browser refuses.
export async function unpackModule(packed) {
  const parts = [];
  for await (const part of unpackedParts(new Blob([packed]).stream())) parts.push(Buffer.from(part));
  return Buffer.concat(parts);
}

const kinds = 11; // of what lies apart in a block

class Room {
  constructor(size) { this.data = Buffer.alloc(size); this.at = 0; }
  byte(b) { this.data[this.at++] = b; }
  number(n) {
    for (; n > 127; n >>= 7) this.byte(n & 127 | 128);
    this.byte(n);
  }
  copy(from, start, end) { from.copy(this.data, this.at, start, end); this.at += end - start; }
  get bytes() { return this.data.subarray(0, this.at); }
}

// packCode returns the functions in so many blocks, and where the first function began.
function packCode(wasm, from, to, parts) {
  const blocks = [];
  let ops, locals, branches, tables, offsets, small, wide, long, calls, odd, returns;
  const r = new Bytes(wasm, from);
  const functions = r.uleb();
  const start = r.at;
  const together = Math.ceil(functions / parts);
  const move = (room, numbers = 1, bytes = 0) => {
    const at = r.at;
    for (; numbers > 0; numbers--) while (wasm[r.at++] > 127);
    r.at += bytes;
    room.copy(wasm, at, r.at);
  };
  for (let f = 0; f < functions; f++) {
    if (f % together === 0) {
      const rooms = Array.from({ length: kinds }, () => new Room(to - from));
      [ops, locals, branches, tables, offsets, small, wide, long, calls, odd, returns] = rooms;
      blocks.push({ functions: Math.min(together, functions - f), rooms });
    }
    const size = r.uleb();
    const end = r.at + size;
    const groups = wasm[r.at];
    if (groups > 127) throw new Error(`function ${f} has too many kinds of local`);
    move(locals);
    for (let i = 0; i < groups; i++) move(locals, 1, 1);
    let place = (f + firstPlace) * 65536;
    let depth = 0;
    while (r.at < end) {
      const op = wasm[r.at++];
      if (op === 0x42) {
        const at = r.at;
        const value = r.sleb64();
        const more = value - place - 1;
        if (r.at - at === 5 && more >= 0 && more < 256) {
          place = value;
          if (more < 8) ops.byte(0xe0 + more);
          else { ops.byte(0xe8); returns.byte(more); }
        } else if (r.at - at > 2) {
          ops.byte(r.at - at === 5 ? 0xea : 0xe9);
          long.copy(wasm, at, r.at);
        } else {
          ops.byte(op);
          wide.copy(wasm, at, r.at);
        }
        continue;
      }
      ops.byte(op);
      if (op >= 0x20 && op <= 0x24) move(ops);
      else if (op >= 0x02 && op <= 0x04) { depth++; move(ops, 0, 1); }
      else if (op === 0x0b) depth--;
      else if (op === 0x0c || op === 0x0d) branches.number(depth - r.uleb());
      else if (op >= 0x28 && op <= 0x3e) { move(ops); move(offsets); }
      else if (op === 0x41) move(small);
      else if (op === 0x10) move(calls);
      else if (op === 0x0e) {
        const count = r.uleb();
        tables.number(count);
        for (let i = 0, last = -1; i <= count; i++) {
          const to = r.uleb();
          const step = to - last - 1;
          tables.number(step < 0 ? -2 * step - 1 : 2 * step);
          last = to;
        }
      } else if (op === 0x11) move(odd, 2);
      else if (op === 0x43) move(odd, 0, 4);
      else if (op === 0x44) move(odd, 0, 8);
      else if (op === 0x3f || op === 0x40) move(odd, 0, 1);
      else if (op === 0xfc) move(odd, { 8: 3, 10: 3, 9: 2, 11: 2 }[wasm[r.at]] ?? 1);
      else if (op >= 0xc5) throw new Error(`function ${f} has an opcode ${op.toString(16)} that is not known here`);
    }
    if (r.at !== end) throw new Error(`function ${f} does not end where it should`);
  }
  if (r.at !== to) throw new Error('the code does not end where it should');
  return { blocks, start };
}

// packData writes the tables of functions as differences, in place, and says how
// to undo it: [kind, from, to, step], in bytes from the start of the data. The data
// lies in segments, with longer runs of zeros left out.
function packData(data) {
  const fixes = [];
  const parts = [];
  for (const [id, from] of sections(data, 0)) {
    if (id !== 11) continue;
    const r = new Bytes(data, from);
    for (let n = r.uleb(); n > 0; n--) {
      r.at += 2;
      const memory = r.sleb();
      r.at++;
      const size = r.uleb();
      parts.push({ memory, at: r.at, end: r.at + size });
      r.at += size;
    }
  }
  const head = data.indexOf(Buffer.from([0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8]));
  const holds = parts.find(({ at, end }) => head >= at && head < end);
  if (!holds) throw new Error('there is no table of functions');
  const count = data.readUInt32LE(head + 8);
  const memory = head - holds.at + holds.memory + data.readUInt32LE(head + 64);
  // The first entry begins with zeros, which may have been left out: it stays as it is.
  const part = parts.find((p) => memory + 8 >= p.memory && memory + 8 < p.memory + p.end - p.at);
  const table = memory - part.memory + part.at;
  const end = table + 8 * count + 4;
  for (let i = 1; i < count; i++) {
    const at = table + data.readUInt32LE(table + 8 * i + 4);
    if (at + 4 > part.end || data.readUInt32LE(at) !== data.readUInt32LE(table + 8 * i)) throw new Error('the table of functions is not laid out as expected');
    data.writeUInt32LE(0, at);
  }
  fixes.push([2, table + 8, table, count - 1]);
  const differences = (from, to, step) => {
    for (let at = from + step + 4 * Math.floor((to - from - step - 1) / 4); at >= from + step; at -= 4) {
      data.writeUInt32LE((data.readUInt32LE(at) - data.readUInt32LE(at - step)) >>> 0, at);
    }
    fixes.unshift([1, from, to, step]);
  };
  // The other table finds the function of an address: sixteen entries of twenty bytes
  // for each.
  const step = 320;
  const follows = (at) => at + step + 4 <= data.length && data.readUInt32LE(at + step) - data.readUInt32LE(at) === 1;
  for (let at = end; at + 10 * step < data.length; at++) {
    if (![0, 1, 2, 3, 4, 5, 6, 7].every((i) => follows(at + i * step))) continue;
    let to = at;
    while (follows(to)) to += 20;
    if (to - at > 1 << 16) { differences(at, to, step); break; }
    at = to;
  }
  differences(table + 8, end, 8);
  return fixes;
}

// pack returns the module packed; it takes what strip gives. Of functions in several
// parts the first are put together while the others still come; brotli finds more
// that is alike when all are in one.
export async function pack(wasm, parts = 1) {
  let code, tail;
  for (const [id, from, to] of sections(wasm)) {
    if (id === 10) {
      code = packCode(wasm, from, to, parts);
      tail = Buffer.from(wasm.subarray(to));
    }
  }
  const fixes = packData(tail);
  const blocks = code.blocks.map(({ functions, rooms }) => ({ functions, rooms: rooms.map((r) => r.bytes) }));
  const words = [wasm.length, firstPlace, fixes.length, blocks.length, code.start, tail.length, ...fixes.flat(),
    ...blocks.flatMap(({ functions, rooms }) => [functions, ...rooms.map((r) => r.length)])];
  const packed = Buffer.concat([Buffer.from('pck2'), Buffer.from(Uint32Array.from(words).buffer),
    wasm.subarray(0, code.start), ...blocks.flatMap(({ rooms }) => rooms), tail]);
  if (!wasm.equals(await unpackModule(packed))) throw new Error('what was packed does not come out as it was');
  return packed;
}
