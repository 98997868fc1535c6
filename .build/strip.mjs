// Takes out of a Go program for the browser what only a stack trace reads: the
// tables of file names and lines, and the names of functions. A first visit then
// fetches a fifth less. The program runs as before; a panic prints addresses,
// which `go build` of the same commit turns back into names.
//
// The layout is that of the Go version in go.mod (runtime/symtab.go,
// internal/abi/symtab.go); anything unexpected is an error, never a guess.
const magic = 0xfffffff1; // internal/abi.Go120PCLnTabMagic

// Read by name at run time (runtime/stkframe.go), or by their prefix
// (isSystemGoroutine).
const kept = (name) => name === 'reflect.makeFuncStub' || name === 'reflect.methodValueCall' || name.startsWith('runtime.');

// A pcdata table that is not there reads as -1: "safe point", "not inlined", "all
// arguments live". Of the five only these decide what the program does.
const keptData = new Set([1, 4]); // abi.PCDATA_StackMapIndex, abi.PCDATA_PanicBounds

export class Bytes {
  constructor(data, at = 0) { this.data = data; this.at = at; }
  byte() { return this.data[this.at++]; }
  uleb() {
    let value = 0;
    for (let shift = 1; ; shift *= 128) {
      const b = this.byte();
      value += (b & 127) * shift;
      if (b < 128) return value;
    }
  }
  sleb() {
    let value = 0;
    for (let shift = 0; ; ) {
      const b = this.byte();
      value |= (b & 127) << shift;
      shift += 7;
      if (b < 128) return shift < 32 && (b & 64) ? value | (-1 << shift) : value;
    }
  }
  // sleb64 is NaN for what a number here cannot hold.
  sleb64() {
    let value = 0;
    for (let shift = 1; ; ) {
      const b = this.byte();
      value += (b & 127) * shift;
      shift *= 128;
      if (b < 128) return value > Number.MAX_SAFE_INTEGER ? NaN : b & 64 ? value - shift : value;
    }
  }
}

const uleb = (n) => {
  const out = [];
  do { out.push((n % 128) | (n > 127 ? 128 : 0)); n = Math.floor(n / 128); } while (n > 0);
  return out;
};
const sleb = (n) => {
  const out = [];
  for (;;) {
    const b = n & 127;
    n >>= 7;
    if ((n === 0 && !(b & 64)) || (n === -1 && (b & 64))) return [...out, b];
    out.push(b | 128);
  }
};

// sections lists the module's sections as [id, start of the body, end].
export function sections(wasm, first = 8) {
  const r = new Bytes(wasm, first);
  const all = [];
  while (r.at < wasm.length) {
    const id = r.byte();
    const size = r.uleb();
    all.push([id, r.at, r.at + size]);
    r.at += size;
  }
  return all;
}

// image is the memory as the module lays it out, from its first byte.
function image(wasm, start) {
  const r = new Bytes(wasm, start);
  const parts = [];
  for (let n = r.uleb(); n > 0; n--) {
    if (r.uleb() !== 0 || r.byte() !== 0x41) throw new Error('a data segment is not an active one of memory 0');
    const at = r.sleb();
    if (r.byte() !== 0x0b) throw new Error('the place of a data segment is not a constant');
    const size = r.uleb();
    parts.push([at, wasm.subarray(r.at, r.at + size)]);
    r.at += size;
  }
  const base = Math.min(...parts.slice(0, 1).map(([at]) => at));
  const last = parts.at(-1);
  const memory = Buffer.alloc(last[0] + last[1].length - base);
  for (const [at, data] of parts) memory.set(data, at - base);
  return { base, memory };
}

// segments writes the memory again, leaving out runs of zeros as the linker does.
function segments(base, memory) {
  const found = [];
  let at = 0;
  while (at < memory.length) {
    while (at < memory.length && memory[at] === 0) at++;
    if (at === memory.length) break;
    let end = at;
    for (let zeros = 0, i = at; i < memory.length && zeros < 512; i++) {
      if (memory[i] === 0) zeros++;
      else { zeros = 0; end = i + 1; }
    }
    found.push([at, end]);
    at = end;
  }
  const out = [Buffer.from(uleb(found.length))];
  for (const [from, to] of found) {
    out.push(Buffer.from([0, 0x41, ...sleb(base + from), 0x0b, ...uleb(to - from)]), memory.subarray(from, to));
  }
  return Buffer.concat(out);
}

// clearBuckets empties the table that finds the function of an address, for a runtime
// that finds it by its number: the functions must be numbered without a gap.
function clearBuckets({ base, memory }, head, names, funcs, count) {
  const word = (at) => Number(memory.readBigUInt64LE(at));
  const starts = Buffer.alloc(16); // of runtime.moduledata: pcHeader, funcnametab
  starts.writeBigUInt64LE(BigInt(base + head));
  starts.writeBigUInt64LE(BigInt(base + names), 8);
  const module = memory.indexOf(starts);
  if (module < 0 || memory.indexOf(starts, module + 1) >= 0) throw new Error('there is not one list of what is in the module');
  const [buckets, first, end, text] = [19, 20, 21, 22].map((n) => word(module + 8 * n)); // findfunctab, minpc, maxpc, text
  for (let i = 0; i < count; i++) {
    if (memory.readUInt32LE(funcs + 8 * i) !== (first - text) / 65536 + i) throw new Error(`function ${i} is not numbered in turn`);
  }
  const from = buckets - base;
  const size = 4 * Math.ceil((end - first) / 4096) + Math.ceil((end - first) / 256);
  if (!(from > 0 && from + size <= memory.length)) throw new Error('the table of addresses is not in the module');
  for (const f of [0, 1, count - 1]) {
    if (memory.readUInt32LE(from + 20 * 16 * f) !== f) throw new Error('the table of addresses is not laid out as expected');
  }
  memory.fill(0, from, from + size);
}

function stripTables({ base, memory }, byNumber) {
  const mark = Buffer.from([0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8]);
  const head = memory.indexOf(mark);
  if (head < 0 || memory.indexOf(mark, head + 1) >= 0) throw new Error(`there is not one function table with magic ${magic.toString(16)}`);
  const word = (n) => Number(memory.readBigUInt64LE(head + 8 * n));
  const count = word(1);
  const [names, units, files, table, funcs] = [4, 5, 6, 7, 8].map((n) => head + word(n));
  if (!(names < units && units < files && files < table && table < funcs && count > 1000)) throw new Error('the function table is not laid out as expected');

  const nameAt = (off) => memory.toString('latin1', names + off, memory.indexOf(0, names + off));
  if (byNumber) clearBuckets({ base, memory }, head, names, funcs, count);
  const newNames = [Buffer.from([0])]; // offset 0 is "no name"
  let namesLength = 1;
  const newName = new Map([[0, 0]]);
  const name = (off) => {
    if (!newName.has(off)) {
      const text = nameAt(off);
      if (!kept(text)) newName.set(off, 0);
      else {
        newName.set(off, namesLength);
        newNames.push(Buffer.from(`${text}\0`, 'latin1'));
        namesLength += text.length + 1;
      }
    }
    return newName.get(off);
  };
  const newTable = [Buffer.from([0])]; // offset 0 is "no table"
  let tableLength = 1;
  const newPlace = new Map([[0, 0]]);
  const place = (off) => {
    if (!newPlace.has(off)) {
      const r = new Bytes(memory, table + off);
      for (let first = true; ; first = false) { // runtime.step
        if (r.uleb() === 0 && !first) break;
        r.uleb();
      }
      newPlace.set(off, tableLength);
      newTable.push(memory.subarray(table + off, r.at));
      tableLength += r.at - table - off;
    }
    return newPlace.get(off);
  };
  for (let i = 0; i < count; i++) {
    const f = funcs + memory.readUInt32LE(funcs + 8 * i + 4);
    const tables = memory.readUInt32LE(f + 28);
    if (tables > 8) throw new Error(`function ${i} has ${tables} tables`);
    memory.writeInt32LE(name(memory.readInt32LE(f + 4)), f + 4);
    memory.writeUInt32LE(place(memory.readUInt32LE(f + 16)), f + 16); // pcsp
    memory.fill(0, f + 20, f + 28); // pcfile, pcln
    memory.fill(0, f + 32, f + 40); // cuOffset, startLine
    for (let k = 0; k < tables; k++) {
      const at = f + 44 + 4 * k;
      memory.writeUInt32LE(keptData.has(k) ? place(memory.readUInt32LE(at)) : 0, at);
    }
  }
  const put = (parts, from, to) => {
    const data = Buffer.concat(parts);
    if (data.length > to - from) throw new Error('a table grew');
    memory.fill(0, from, to);
    data.copy(memory, from);
  };
  put(newNames, names, units);
  memory.fill(0, units, table);
  put(newTable, table, funcs);
  return count;
}

// strip returns the module without its tables of lines and names; with byNumber, for a
// runtime that finds functions by their numbers (patches.mjs), without the table for
// finding them too.
export function strip(wasm, { byNumber = false } = {}) {
  const out = [wasm.subarray(0, 8)];
  for (const [id, from, to] of sections(wasm)) {
    let body = wasm.subarray(from, to);
    if (id === 11) {
      const laid = image(wasm, from);
      stripTables(laid, byNumber);
      body = segments(laid.base, laid.memory);
    }
    out.push(Buffer.from([id, ...uleb(body.length)]), body);
  }
  return Buffer.concat(out);
}
