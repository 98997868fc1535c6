// Starts the app, covers the page if the app stops, and tells the app what the
// service worker is doing.
//
// The app reads window.fairlead and listens for "fairlead-shell" on window,
// which is sent whenever one of the values changes:
//
//   version          the version that is kept and in use here, "" until known
//   offlineReady     every file of a version is kept here: the app opens
//                    without a network
//   offlineProblem   why it is not, in words, or ""
//   restReady        what is fetched after that is kept here too: dictations can
//                    be read without a network
//   updateWaiting    a newer version is kept here whole, and waits
//   updateElsewhere  another tab has moved to a newer version
//   applyUpdate()    move to the waiting version: this page reloads
//   lookForUpdate()  ask the server for a newer version now
//   plantPanic()     stops the app; only where the server allows it, for tests
//   stopped          the app has stopped and the page is covered
"use strict";
(() => {
  const shell = {
    version: "",
    offlineReady: false,
    offlineProblem: "",
    restReady: false,
    updateWaiting: false,
    updateElsewhere: false,
    stopped: false,
    applyUpdate,
    lookForUpdate,
  };
  window.fairlead = shell;

  function tell(values) {
    if (Object.keys(values).every((k) => shell[k] === values[k])) return;
    Object.assign(shell, values);
    window.dispatchEvent(new Event("fairlead-shell"));
  }

  // ---------------------------------------------------------------- the cover

  // cover hides the page once nothing on it answers any more. It depends on
  // nothing but this file and the page itself.
  function cover(title, words) {
    if (shell.stopped) return;
    shell.stopped = true;
    const box = document.getElementById("cover");
    if (title) document.getElementById("cover-title").textContent = title;
    if (words) document.getElementById("cover-words").textContent = words;
    for (const other of document.body.children) {
      if (other !== box) other.inert = true;
    }
    box.hidden = false;
    const reload = document.getElementById("cover-reload");
    reload.addEventListener("click", () => location.reload());
    reload.focus();
  }

  // A trap inside the program (memory used up, stack used up) does not end it
  // in an orderly way; it shows only as an error on the page.
  window.addEventListener("error", (event) => {
    const e = event.error;
    if (running && (e instanceof WebAssembly.RuntimeError || e instanceof RangeError ||
        /Go program has already exited/.test(String(e && e.message)))) {
      cover();
    }
  });

  // A browser that may keep nothing for this site throws when its small stores
  // are looked at, which Go cannot catch, and the framework looks at its start.
  // What stands in for them lasts as long as the page.
  for (const name of ["localStorage", "sessionStorage"]) {
    try {
      window[name].getItem("");
    } catch {
      const held = new Map();
      Object.defineProperty(window, name, { configurable: true, value: {
        get length() { return held.size; },
        key: (n) => [...held.keys()][n] ?? null,
        getItem: (k) => held.get(String(k)) ?? null,
        setItem: (k, v) => { held.set(String(k), String(v)); },
        removeItem: (k) => { held.delete(String(k)); },
        clear: () => held.clear(),
      } });
    }
  }

  // ------------------------------------------------------------------ the app

  // The framework asks for these by name.
  window.goappGetenv = (name) => ({
    GOAPP_STATIC_RESOURCES_URL: "/web",
    GOAPP_ROOT_PREFIX: "",
    GOAPP_INTERNAL_URLS: "[]",
  })[name] ?? "";
  window.goappTryUpdate = lookForUpdate;

  let running = false;
  const compiled = "WebAssembly" in window
    ? WebAssembly.compileStreaming(fetch("/web/app.wasm").then(unpacked))
    : Promise.reject(new Error("this browser cannot run WebAssembly"));
  compiled.catch(() => {}); // reported by start

  async function start() {
    let instance, go;
    try {
      go = new Go();
      go.env.GOGC = "400"; // of a small heap: collecting less often is what one typing notices
      if ("plantPanic" in document.documentElement.dataset) go.argv.push("plant-panic");
      const module = await compiled;
      performance.mark("fairlead-compiled");
      instance = await WebAssembly.instantiate(module, go.importObject);
    } catch (e) {
      console.error("the app did not open:", e);
      listen();
      register(); // a newer version may open
      cover("fairlead did not open",
        "The app could not be fetched whole, or this browser is too old for it. " +
        "Nothing kept on this device is touched. Check the network, then reload.");
      return;
    }
    performance.mark("fairlead-running");
    running = true;
    listen();
    whenDrawn(register); // not sooner: it would fetch and unpack beside the app's own start
    go.exit = (code) => {
      console.warn("the app stopped, code", code);
      cover();
    };
    try {
      await go.run(instance);
    } catch (e) {
      console.error("the app stopped:", e);
    }
    cover();
  }

  // whenDrawn does something once the first screen is there and not busy, or after
  // five seconds.
  function whenDrawn(act) {
    const end = performance.now() + 5000;
    const look = () => {
      const drawn = document.querySelector("main") && !document.querySelector('[aria-busy="true"]');
      if (drawn || performance.now() > end) act(); else setTimeout(look, 30);
    };
    look();
  }

  // ------------------------------------------------------- the service worker

  let registration = null;
  let applying = false;

  function lookForUpdate() {
    if (registration) registration.update().catch(() => {}); // no network: nothing new
  }

  function applyUpdate() {
    if (!registration || !registration.waiting) return;
    applying = true;
    registration.waiting.postMessage({ fairlead: "take over" });
  }

  // ask puts a question to a worker and resolves to its answer, or to null if
  // none comes in time or the worker is replaced meanwhile.
  function ask(worker, question, patience = 5000) {
    return new Promise((resolve) => {
      const channel = new MessageChannel();
      const late = setTimeout(() => resolve(null), patience);
      channel.port1.onmessage = (event) => { clearTimeout(late); resolve(event.data); };
      worker.addEventListener("statechange", () => { if (worker.state === "redundant") resolve(null); });
      worker.postMessage({ fairlead: question }, [channel.port2]);
    });
  }

  // look asks the workers themselves what they hold; a worker being there is
  // no proof that its files still are. One look at a time, so that no earlier
  // answer is told after a later one.
  let looking = false;
  let again = false;
  async function look() {
    again = true;
    if (looking || !registration) return;
    looking = true;
    while (again) {
      again = false;
      const { active, waiting } = registration;
      let now = active && await ask(active, "what is kept");
      if (now && !now.whole) now = await ask(active, "mend", 120_000);
      if (active && !now) setTimeout(look, 5000); // too busy to answer, or just replaced
      if (again) continue;
      tell({
        offlineReady: Boolean(now && now.whole),
        offlineProblem: now && !now.whole ? "Part of the app is no longer kept on this device." : "",
        version: shell.version || (now ? now.version : ""),
        updateWaiting: Boolean(waiting && active),
      });
    }
    looking = false;
    if (shell.offlineReady && !shell.restReady) {
      const rest = await ask(registration.active, "fetch the rest", 120_000);
      if (rest) tell({ restReady: rest.rest });
    }
  }

  function watch(worker) {
    if (worker) worker.addEventListener("statechange", look);
  }

  // listen hears at once that another tab moved to a newer version, whenever this one
  // registers the worker.
  function listen() {
    if (!("serviceWorker" in navigator)) return;
    const hadController = Boolean(navigator.serviceWorker.controller);
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      if (applying) { location.reload(); return; }
      if (hadController) tell({ updateElsewhere: true });
      look();
    });
  }

  async function register() {
    if (!("serviceWorker" in navigator)) {
      tell({ offlineProblem: "Working offline needs a secure connection (https) and a browser that allows it." });
      return;
    }
    try {
      registration = await navigator.serviceWorker.register("/worker.js", { updateViaCache: "none" });
    } catch (e) {
      // Without a network the registration made earlier still stands.
      registration = await navigator.serviceWorker.getRegistration("/").catch(() => null);
      if (!registration) {
        tell({ offlineProblem: "The app could not be kept on this device for offline use." });
        return;
      }
    }
    watch(registration.installing);
    registration.addEventListener("updatefound", () => watch(registration.installing));
    look();
  }

  // Deferred scripts run in order: when this event comes, wasm_exec.js has run.
  document.addEventListener("DOMContentLoaded", start);
})();
