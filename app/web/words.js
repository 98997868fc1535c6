// The worker that reads dictations: text in, proposals out.
//
//   postMessage({number, kind, text})  →  {number, reading, took}
//
// reading is JSON as `fairlead read` prints it, took the milliseconds it needed.
// {failed} is sent once if the reader cannot be opened.
"use strict";
importScripts("/web/wasm_exec.js", "/web/unpack.js");

const opened = new Promise((resolve) => { self.fairleadReady = resolve; });

(async () => {
  try {
    const go = new Go();
    const { instance } = await WebAssembly.instantiateStreaming(fetch("/web/words.wasm").then(unpacked), go.importObject);
    await go.run(instance);
    postMessage({ failed: "the reader stopped" });
  } catch (e) {
    postMessage({ failed: String(e) });
  }
})();

// practise lets the reader read so often that the browser makes it fast, a reading at a
// time, so that what a person says waits for one at most.
let left = 40;
function practise(kind) {
  if (left-- <= 0) return;
  self.fairleadPractise(kind);
  setTimeout(practise, 0, kind);
}

self.onmessage = async ({ data }) => {
  await opened;
  if (left === 40) setTimeout(practise, 0, data.kind);
  const begun = performance.now();
  const reading = self.fairleadRead(data.kind, data.text);
  postMessage({ number: data.number, reading, took: performance.now() - begun });
};
