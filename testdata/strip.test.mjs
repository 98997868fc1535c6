// The step that takes the tables of a stack trace out of the browser's program
// must change nothing that the program does: a program that leans on what the
// tables around them hold (growing stacks, collections, panics caught, makeFunc's
// frames, many goroutines) says the same before and after.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { test } from 'node:test';
import { findsByNumber, standard } from '../.build/patches.mjs';
import { strip } from '../.build/strip.mjs';

const source = `package main

import (
	"encoding/json"
	"fmt"
	"reflect"
	"runtime"
	"sort"
	"sync"
)

type node struct {
	Left, Right *node
	Name        string
}

func grow(n int) *node {
	var room [512]byte
	room[n%512] = byte(n)
	if n == 0 {
		return &node{Name: "leaf"}
	}
	if n%97 == 0 {
		runtime.GC()
	}
	return &node{Left: grow(n - 1), Name: fmt.Sprint(n, room[n%512])}
}

func caught(i int, of []int) (what string) {
	defer func() { what = fmt.Sprint(recover()) }()
	return fmt.Sprint(of[i])
}

func main() {
	depth := 0
	for at := grow(1000); at != nil; at = at.Left {
		depth++
	}
	fmt.Println("depth", depth)
	fmt.Println(caught(7, []int{1, 2}))
	var none *node
	func() {
		defer func() { fmt.Println(recover()) }()
		fmt.Println(none.Name)
	}()
	var mu sync.Mutex
	var wg sync.WaitGroup
	var all []int
	for i := range 200 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			_ = grow(50)
			mu.Lock()
			all = append(all, i*i)
			mu.Unlock()
		}()
	}
	wg.Wait()
	sort.Ints(all)
	fmt.Println(len(all), all[199])
	made := reflect.MakeFunc(reflect.TypeOf(func(int, *node) *node { return nil }), func(in []reflect.Value) []reflect.Value {
		runtime.GC()
		_ = grow(300)
		return in[1:2]
	}).Interface().(func(int, *node) *node)
	fmt.Println(made(1, &node{Name: "through makeFunc"}).Name)
	method := reflect.ValueOf(&node{Name: "through a method value"}).MethodByName("Say").Interface().(func() string)
	fmt.Println(method())
	text, err := json.Marshal(map[string]any{"b": []int{1}, "a": node{Name: "x"}})
	fmt.Println(string(text), err)
	var in *int
	fmt.Println(*in)
}

func (n *node) Say() string { runtime.GC(); _ = grow(200); return n.Name }
`;

test('a program without its tables of lines and names does the same', () => {
  const dir = fs.mkdtempSync(path.join(os.tmpdir(), 'fairlead-strip-'));
  fs.writeFileSync(path.join(dir, 'main.go'), source);
  fs.writeFileSync(path.join(dir, 'go.mod'), 'module example\n\ngo 1.25\n');
  const env = { ...process.env, GOOS: 'js', GOARCH: 'wasm', GOFLAGS: '' };
  execFileSync('go', ['build', '-ldflags=-s -w', '-o', 'whole.wasm', '.'], { cwd: dir, env });
  const whole = fs.readFileSync(path.join(dir, 'whole.wasm'));
  fs.writeFileSync(path.join(dir, 'bare.wasm'), strip(whole));
  const root = execFileSync('go', ['env', 'GOROOT'], { encoding: 'utf8' }).trim();
  const run = (name) => {
    try {
      return { said: execFileSync('node', [path.join(root, 'lib/wasm/wasm_exec_node.js'), name], { cwd: dir, encoding: 'utf8', env: { ...process.env, GOGC: '5' }, stdio: 'pipe' }) };
    } catch (e) {
      return { said: e.stdout, code: e.status, fault: e.stderr };
    }
  };
  const before = run('whole.wasm');
  const after = run('bare.wasm');
  assert.match(before.said, /depth 1001\n.*index out of range \[7\].*\n.*nil pointer[^]*through makeFunc\nthrough a method value/);
  assert.equal(after.said, before.said);
  assert.equal(after.code, before.code);
  assert.equal(after.code, 2);
  assert.match(after.fault, /panic: runtime error: invalid memory address/);
  assert.match(before.fault, /main\.go:/);
  assert.doesNotMatch(after.fault, /main\.go/);

  // Functions found by their numbers, where Go is the version that is changed for it.
  const symtab = path.join(root, 'src', findsByNumber);
  const { sha256, rewrite } = standard.find(({ file }) => file === findsByNumber);
  const text = fs.readFileSync(symtab, 'utf8');
  if (createHash('sha256').update(text).digest('hex') === sha256) {
    const changed = path.join(dir, 'symtab.changed');
    fs.writeFileSync(changed, rewrite(text));
    fs.writeFileSync(path.join(dir, 'overlay.json'), JSON.stringify({ Replace: { [symtab]: changed } }));
    execFileSync('go', ['build', '-overlay=overlay.json', '-ldflags=-s -w', '-o', 'numbered.wasm', '.'], { cwd: dir, env });
    const numbered = strip(fs.readFileSync(path.join(dir, 'numbered.wasm')), { byNumber: true });
    assert.ok(numbered.length < strip(whole).length * 0.9, `${numbered.length} bytes, ${strip(whole).length} without`);
    fs.writeFileSync(path.join(dir, 'numbered.wasm'), numbered);
    const found = run('numbered.wasm');
    assert.equal(found.said, before.said);
    assert.equal(found.code, 2);
  }
  fs.rmSync(dir, { recursive: true });
});

test('what is not laid out as expected is refused', () => {
  const wasm = Buffer.from([0, 0x61, 0x73, 0x6d, 1, 0, 0, 0, 11, 9, 1, 0, 0x41, 0, 0x0b, 3, 1, 2, 3]);
  assert.throws(() => strip(wasm), /not one function table/);
});
