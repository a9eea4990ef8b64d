// The phone's connection: it comes back by itself after a lost network, a locked phone or a reload.

const ANSWER_MS = 4000; // for the server's word; then the connection counts as lost
const WAITS_MS = [300, 1000, 2000, 4000]; // before each new try, and the last one from then on
const FULL_MS = 8000;

export class PhoneChannel {
  /**
   * @param {string} address of the websocket
   * @param {{onMessage: (message: any) => void, onLost: () => void}} handlers
   * @param {Window & typeof globalThis} view
   */
  constructor(address, { onMessage, onLost }, view) {
    this.address = address;
    this.onMessage = onMessage;
    this.onLost = onLost;
    this.view = view;
    this.tries = 0;
    this.retry = 0;
    this.silence = 0;
    this.hasEnded = false;
    this.socket = /** @type {WebSocket|null} */ (null);
    view.addEventListener("online", () => this.wake());
    view.addEventListener("pageshow", () => this.wake());
    view.document.addEventListener("visibilitychange", () => view.document.hidden || this.wake());
    this.connect();
  }

  connect() {
    clearTimeout(this.retry);
    this.hasEnded = false;
    const socket = new this.view.WebSocket(this.address);
    this.socket = socket;
    this.expect();
    socket.onmessage = ({ data }) => {
      if (socket !== this.socket) return;
      clearTimeout(this.silence);
      this.tries = 0;
      const message = JSON.parse(data);
      if (message.ended) this.end(message.ended);
      this.onMessage(message);
    };
    socket.onclose = () => socket === this.socket && this.lose();
  }

  end(why) {
    this.hasEnded = true;
    if (why === "full") this.retry = setTimeout(() => this.connect(), FULL_MS);
  }

  /** The server must say something soon. */
  expect() {
    clearTimeout(this.silence);
    this.silence = setTimeout(() => this.lose(), ANSWER_MS);
  }

  lose() {
    if (this.hasEnded) return;
    const old = this.socket;
    this.socket = null;
    if (old) old.close();
    clearTimeout(this.silence);
    clearTimeout(this.retry);
    const wait = WAITS_MS[Math.min(this.tries, WAITS_MS.length - 1)];
    this.tries += 1;
    this.retry = setTimeout(() => this.connect(), wait * (0.5 + Math.random())); // a class does not come back all at once
    this.onLost();
  }

  /** The phone is looked at again: ask what is open, or connect at once. */
  wake() {
    if (this.hasEnded) return;
    if (!this.socket) this.connect();
    else if (this.socket.readyState === 1) this.send({ here: true });
  }

  /** @param {object} message @returns {boolean} whether it is on its way */
  send(message) {
    if (!this.socket || this.socket.readyState !== 1) return false;
    this.socket.send(JSON.stringify(message));
    this.expect();
    return true;
  }
}
