// What ties the page to its program. When it breaks, the picture goes on, one banner says so, and what only the
// program could answer is locked. Text can still be typed: it is kept, and is there when the page comes back.

const BEAT_MS = 2000; // from an answer to the next question
const PATIENCE_MS = 6000; // for an answer; with the above it stays below ten seconds
const BREATH_MS = 5000; // a connection may be lost for so long without a word
const LATE_MS = 1000; // a timer later than this belongs to a computer that slept or a tab that was held back
const KNOCK_MS = 1000; // between one look for the server and the next
const RESTARTED = ["restarting", "autorestarting", "dead"];
const KEPT = "What you see can still be played, and what you type is kept.";
const LOST = `The program behind this page has ended. ${KEPT} Reload the page to go on from here.`;
const GREEDY = `The program behind this page needed more memory than a page may use, so it was stopped. ${KEPT} Reload the page to go on from here.`;
const GONE = `This page has lost the connection to its server. ${KEPT} Reload it to go on from here once the server answers.`;
const SILENT = `The program behind this page does not answer. ${KEPT} Wait for it, or reload the page to go on from here.`;
const KNOCKING = `The server does not answer yet. ${KEPT} The page goes on from here as soon as it does.`;
const FRAMES = ".fp-solutions"; // scroll, and are reached by the keyboard through the buttons in them
const ASKING_CONTROLS = ":is(.jupyter-button, .widget-inline-hbox select, .widget-checkbox input, .fp-away)";

/** Whether anything answers where the page came from. @param {string} address */
async function serverAnswers(address) {
  try {
    const { status } = await fetch(address, { cache: "no-store", signal: AbortSignal.timeout(PATIENCE_MS) });
    return status < 500; // a gate may answer for a server that is not there
  } catch {
    return false;
  }
}

/** @param {() => string} address where the server is asked for a sign of life */
function raiseBanner(address) {
  const banner = document.createElement("div");
  banner.className = "fp-lost";
  banner.setAttribute("role", "alert");
  const words = document.createElement("span");
  const reload = document.createElement("button");
  reload.type = "button";
  reload.className = "fp-button";
  reload.textContent = "Reload";
  let knocking = 0;
  async function knock() {
    if (await serverAnswers(address())) location.reload();
    else if (banner.isConnected) {
      words.textContent = KNOCKING;
      knocking = setTimeout(knock, KNOCK_MS);
    }
  }
  reload.addEventListener("click", () => {
    reload.disabled = true;
    knock();
  });
  banner.append(words, reload);
  document.body.append(banner);
  return {
    say(text) {
      if (!reload.disabled && words.textContent !== text) words.textContent = text;
    },
    lower() {
      clearTimeout(knocking);
      banner.remove();
    },
  };
}

/** A question that the program answers even while it is at work. */
const beatOf = (kernel) => ({
  channel: "control",
  header: { msg_id: crypto.randomUUID?.() ?? `beat-${Date.now()}-${Math.random()}`, msg_type: "kernel_info_request", session: kernel.clientId, username: kernel.username ?? "", version: "5.2", date: new Date().toISOString() },
  parent_header: {},
  metadata: {},
  content: {},
  buffers: [],
});

/**
 * Ask the program for a sign of life, again and again; whatever comes from it is one.
 * @param kernel @param {{silent: () => void, alive: () => void}} tell
 */
function mountPulse(kernel, { silent, alive }) {
  let timer = 0;
  let due = 0;
  function beat() {
    clearTimeout(timer);
    if (document.hidden) return; // asked again as soon as the page is seen
    if (kernel.connectionStatus === "connected" && kernel.status !== "dead") kernel.sendControlMessage(beatOf(kernel), false, true);
    else return; // another sign tells of that
    due = Date.now() + PATIENCE_MS;
    timer = setTimeout(unanswered, PATIENCE_MS);
  }
  function unanswered() {
    if (document.hidden) return;
    if (Date.now() - due > LATE_MS) beat();
    else silent();
  }
  function heard(_, { direction }) {
    if (direction !== "recv") return;
    clearTimeout(timer);
    timer = setTimeout(beat, BEAT_MS);
    alive();
  }
  kernel.anyMessage.connect(heard);
  document.addEventListener("visibilitychange", beat);
  beat();
  return {
    beat,
    destroy() {
      clearTimeout(timer);
      kernel.anyMessage.disconnect(heard);
      document.removeEventListener("visibilitychange", beat);
    },
  };
}

/** @param root the widget's own part of its page @param model the widget's, which knows the connection */
export function mountLifeline(root, model) {
  const kernel = model.widget_manager?.kernel;
  if (!kernel?.statusChanged || !kernel.connectionStatusChanged || !kernel.anyMessage) return { ended: () => false, destroy() {} };
  let lost = false;
  let ending = LOST;
  let banner = /** @type {ReturnType<typeof raiseBanner>|null} */ (null);
  let waiting = 0;
  let locked = [];
  const address = () => new URL(`api/kernels/${kernel.id}`, kernel.serverSettings?.baseUrl ?? location.origin).href;

  function tell(text) {
    banner ??= raiseBanner(address);
    banner.say(text);
    const page = root.closest(".fp-page") ?? root;
    const usable = [...page.querySelectorAll(ASKING_CONTROLS)].filter((control) => !control.disabled);
    for (const control of usable) control.disabled = true;
    for (const frame of page.querySelectorAll(FRAMES)) frame.tabIndex = 0;
    locked.push(...usable);
  }
  function recover() {
    if (lost || !banner) return;
    banner.lower();
    banner = null;
    for (const control of locked) control.disabled = false;
    for (const frame of document.querySelectorAll(FRAMES)) frame.removeAttribute("tabindex");
    locked = [];
  }
  function onStatus(_, status) {
    // what replaces an ended program is an empty one: nothing on the page belongs to it
    if (!RESTARTED.includes(status)) return;
    lost = true;
    tell(ending);
  }
  /** The server says why it ended a program, where it was the server that did. */
  function onMessage(_, { direction, msg }) {
    if (direction !== "recv" || msg?.content?.reason !== "memory") return;
    ending = GREEDY;
    if (lost) tell(ending);
  }
  /** Give a lost connection time to come back: in a page that is not seen it has all the time there is. */
  function watchConnection() {
    clearTimeout(waiting);
    if (lost || document.hidden || kernel.isDisposed) return; // disposed: the page is being left
    if (kernel.connectionStatus === "connected") {
      recover();
      pulse.beat();
      return;
    }
    if (kernel.connectionStatus === "disconnected") kernel.reconnect().catch(() => {}); // it had given up: this comes here again
    else waiting = setTimeout(() => tell(lost ? ending : GONE), banner ? 0 : BREATH_MS);
  }
  const pulse = mountPulse(kernel, {
    silent: () => kernel.connectionStatus === "connected" && !lost && tell(SILENT),
    alive: () => kernel.connectionStatus === "connected" && recover(),
  });
  kernel.statusChanged.connect(onStatus);
  kernel.anyMessage.connect(onMessage);
  kernel.connectionStatusChanged.connect(watchConnection);
  document.addEventListener("visibilitychange", watchConnection);
  addEventListener("online", watchConnection);
  return {
    ended: () => lost || banner !== null,
    destroy() {
      clearTimeout(waiting);
      pulse.destroy();
      kernel.statusChanged.disconnect(onStatus);
      kernel.anyMessage.disconnect(onMessage);
      kernel.connectionStatusChanged.disconnect(watchConnection);
      document.removeEventListener("visibilitychange", watchConnection);
      removeEventListener("online", watchConnection);
      lost = false;
      recover();
    },
  };
}
