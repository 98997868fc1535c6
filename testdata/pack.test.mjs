// What a browser fetches packed must come out byte for byte as it was built; what is
// not a packed module, or not a whole one, must be refused, never run.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { test } from 'node:test';
import { pack, unpackModule } from '../.build/pack.mjs';
import { strip } from '../.build/strip.mjs';

// Floats, closures, interfaces, a big switch, and code of packages that grow and
// copy memory: every kind of instruction the compiler makes.
const source = `package main

import (
	"fmt"
	"math"
	"os"
	"strings"
)

type shape interface{ area() float64 }
type square struct{ side float32 }

func (s square) area() float64 { return float64(s.side * s.side) }

func name(n int) string {
	switch n {
	case 0: return "zero"
	case 1: return "one"
	case 2: return "two"
	case 3: return "three"
	case 4: return "four"
	case 5: return "five"
	case 6: return "six"
	case 7: return "seven"
	case 8: return "eight"
	}
	return strings.Repeat("many", n)
}

func main() {
	var all []shape
	for i := range 9 {
		all = append(all, square{float32(i) + 0.25})
		fmt.Println(name(i), all[i].area(), math.Sqrt(float64(i)), uint8(int8(-i)))
	}
	f := func(n uint64) uint64 { return n*0x9e3779b97f4a7c15 ^ uint64(len(os.Args)) }
	fmt.Println(f(f(7)))
}
`;

test('a packed program comes out byte for byte, and only a whole one does', async () => {
  const dir = fs.mkdtempSync(path.join(os.tmpdir(), 'fairlead-pack-'));
  fs.writeFileSync(path.join(dir, 'go.mod'), 'module packed\n\ngo 1.26\n');
  fs.writeFileSync(path.join(dir, 'main.go'), source);
  execFileSync('go', ['build', '-o', 'main.wasm', '.'], { cwd: dir, env: { ...process.env, GOOS: 'js', GOARCH: 'wasm', GOWORK: 'off' } });
  const wasm = strip(fs.readFileSync(path.join(dir, 'main.wasm')));
  const packed = await pack(wasm, 3);
  assert.ok(wasm.equals(await unpackModule(packed)));
  assert.ok(WebAssembly.validate(await unpackModule(packed)));
  fs.rmSync(dir, { recursive: true });

  for (const bytes of [wasm, Buffer.from('a page of an error that stands in the way'), packed.subarray(0, packed.length - 1),
    packed.subarray(0, packed.length >> 1), packed.subarray(0, 60), Buffer.alloc(200), Buffer.concat([packed, Buffer.from([0])])]) await assert.rejects(unpackModule(bytes));
  // One byte of the instructions wrong: refused, or at least another module.
  const at = Buffer.from(packed);
  at[Math.floor(at.length / 2)] ^= 0x55;
  let made;
  try { made = await unpackModule(at); } catch { /* refused */ }
  assert.ok(!made || !wasm.equals(made));
});
