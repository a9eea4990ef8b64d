// What ties the page to its program. When it breaks, the picture goes on, a banner says so, and the controls that need
// the program are locked. Text can still be typed; the page keeps it until it comes back.

import { mountHeartbeat } from "./heartbeat.js";
import { LOSS_MESSAGES, raiseBanner } from "./lost_banner.js";

const RECONNECT_MS = 5000; // for which a lost connection is no reason for a banner
const RESTARTED = ["restarting", "autorestarting", "dead"];
const SCROLLING_FRAMES = ".fp-solutions"; // the keyboard reaches them through the buttons in them
const PROGRAM_CONTROLS = ":is(.jupyter-button, .widget-inline-hbox select, .widget-checkbox input, .fp-away)";

/** Lock what only the program could answer. @param {Element} page @returns {Element[]} */
function lockControls(page) {
  const usable = [...page.querySelectorAll(PROGRAM_CONTROLS)].filter((control) => !control.disabled);
  for (const control of usable) control.disabled = true;
  for (const frame of page.querySelectorAll(SCROLLING_FRAMES)) frame.tabIndex = 0;
  return usable;
}

function unlockControls(controls) {
  for (const control of controls) control.disabled = false;
  for (const frame of document.querySelectorAll(SCROLLING_FRAMES)) frame.removeAttribute("tabindex");
}

class Lifeline {
  constructor(root, kernel) {
    this.root = root;
    this.kernel = kernel;
    this.hasEnded = false;
    this.ending = LOSS_MESSAGES.programEnded;
    this.banner = /** @type {ReturnType<typeof raiseBanner>|null} */ (null);
    this.locked = /** @type {Element[]} */ ([]);
    this.bannerTimer = 0;
    const isConnected = () => kernel.connectionStatus === "connected";
    this.heartbeat = mountHeartbeat(kernel, {
      onSilence: () => isConnected() && !this.hasEnded && this.raise(LOSS_MESSAGES.noAnswer),
      onAnswer: () => isConnected() && this.recover(),
    });
    this.disconnect = this.connect();
  }

  connect() {
    const { kernel } = this;
    const onStatus = (_, status) => this.checkStatus(status);
    const onMessage = (_, { direction, msg }) => direction === "recv" && this.noteReason(msg?.content?.reason);
    const onConnection = () => this.checkConnection();
    kernel.statusChanged.connect(onStatus);
    kernel.anyMessage.connect(onMessage);
    kernel.connectionStatusChanged.connect(onConnection);
    document.addEventListener("visibilitychange", onConnection);
    addEventListener("online", onConnection);
    return () => {
      kernel.statusChanged.disconnect(onStatus);
      kernel.anyMessage.disconnect(onMessage);
      kernel.connectionStatusChanged.disconnect(onConnection);
      document.removeEventListener("visibilitychange", onConnection);
      removeEventListener("online", onConnection);
    };
  }

  /** Whether the program cannot be reached. */
  ended() { return this.hasEnded || this.banner !== null; }

  /** What replaces an ended program is an empty one: nothing on the page belongs to it. */
  checkStatus(status) {
    if (!RESTARTED.includes(status)) return;
    this.hasEnded = true;
    this.raise(this.ending);
  }

  /** The server says why, where it was the server that ended a program. */
  noteReason(reason) {
    if (reason !== "memory") return;
    this.ending = LOSS_MESSAGES.outOfMemory;
    if (this.hasEnded) this.raise(this.ending);
  }

  /** Give a lost connection time to come back; a page that is not seen waits until it is. */
  checkConnection() {
    const { kernel } = this;
    clearTimeout(this.bannerTimer);
    if (this.hasEnded || document.hidden || kernel.isDisposed) return; // disposed: the page is being left
    if (kernel.connectionStatus === "connected") {
      this.recover();
      this.heartbeat.beat();
    } else if (kernel.connectionStatus === "disconnected") kernel.reconnect().catch(() => {}); // it had given up: this comes here again
    else this.bannerTimer = setTimeout(() => this.raise(this.hasEnded ? this.ending : LOSS_MESSAGES.noServer), this.banner ? 0 : RECONNECT_MS);
  }

  raise(text) {
    const { kernel } = this;
    this.banner ??= raiseBanner(() => new URL(`api/kernels/${kernel.id}`, kernel.serverSettings?.baseUrl ?? location.origin).href);
    this.banner.show(text);
    this.locked.push(...lockControls(this.root.closest(".fp-page") ?? this.root));
  }

  recover() {
    if (this.hasEnded || !this.banner) return;
    this.banner.remove();
    this.banner = null;
    unlockControls(this.locked);
    this.locked = [];
  }

  destroy() {
    clearTimeout(this.bannerTimer);
    this.heartbeat.destroy();
    this.disconnect();
    this.hasEnded = false;
    this.recover();
  }
}

/** @param root the widget's own part of its page @param model the widget's, which knows the connection */
export function mountLifeline(root, model) {
  const kernel = model.widget_manager?.kernel;
  const isKnown = kernel?.statusChanged && kernel.connectionStatusChanged && kernel.anyMessage;
  return isKnown ? new Lifeline(root, kernel) : { ended: () => false, destroy() {} };
}
