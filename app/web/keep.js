// Decrypts many of the device's records in one call from Go (app/keep): asking
// for each record by itself takes Go several times as long as the decrypting.
//
// fairleadOpen(records, key, what, newest) resolves to {bytes, lengths}: the
// contents one after the other, and the length of each; in place of a length,
// -1 for a record that does not open, -2 for one of a later format than newest.
// app/keep/doc.go describes the format.
"use strict";
window.fairleadOpen = async (records, key, what, newest) => {
  const utf8 = new TextEncoder();
  const opened = await Promise.all(records.map(async (r) => {
    if (!Number.isInteger(r.format) || r.format < 1) return -1;
    if (r.format > newest) return -2;
    try {
      return new Uint8Array(await crypto.subtle.decrypt({
        name: "AES-GCM", iv: r.nonce, additionalData: utf8.encode(`fairlead ${r.format} ${what} ${r.case} ${r.id}`),
      }, key, r.ciphertext));
    } catch {
      return -1;
    }
  }));
  const lengths = Int32Array.from(opened, (o) => (typeof o === "number" ? o : o.length));
  const bytes = new Uint8Array(lengths.reduce((sum, n) => sum + Math.max(n, 0), 0));
  let at = 0;
  for (const o of opened) {
    if (typeof o === "number") continue;
    bytes.set(o, at);
    at += o.length;
  }
  return { bytes, lengths: new Uint8Array(lengths.buffer) };
};
