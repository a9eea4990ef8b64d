// The teacher's page and its room: one websocket to the server. The room's own key is kept in this tab, so that a reload
// finds the room.

import { keepInTab, keptInTab } from "../kit/tab_memory.js";
import { TAB_KEY } from "./opener.js";

const RETRY_MS = 1500;
export const UNREACHABLE = "The server that shows this page cannot be reached. Trying again …";

/** @param {string} path @param {Location} here */
export const addressOf = (path, here = location) => `${here.protocol === "https:" ? "wss" : "ws"}://${here.host}${path}${here.search}`;

export class Steering {
  /**
   * @param {(message: any) => void} onMessage what the server says @param {(said: string) => void} onLost the connection is lost
   * @param {(address: string) => WebSocket} connect
   */
  constructor(onMessage, onLost, connect = (address) => new WebSocket(address)) {
    this.onMessage = onMessage;
    this.onLost = onLost;
    this.makeSocket = connect;
    this.socket = /** @type {WebSocket|null} */ (null);
    this.token = keptInTab(TAB_KEY) ?? "";
    this.retry = 0;
    this.waiting = /** @type {object[]} */ ([]); // until the connection is there
  }

  /** Find the room that this tab had opened before a reload, if it had. */
  resume() { if (this.token) this.connect(); }

  /** @param {object} message */
  send(message) {
    if (this.socket?.readyState === 1) this.socket.send(JSON.stringify(message));
    else {
      this.waiting.push(message);
      if (!this.socket) this.connect();
    }
  }

  connect() {
    clearTimeout(this.retry);
    const socket = this.makeSocket(addressOf("/room/steering"));
    this.socket = socket;
    socket.onopen = () => {
      if (this.token) socket.send(JSON.stringify({ resume: this.token }));
      for (const message of this.waiting.splice(0)) socket.send(JSON.stringify(message));
    };
    socket.onmessage = ({ data }) => this.hear(JSON.parse(data));
    socket.onclose = () => socket === this.socket && this.lose();
  }

  hear(message) {
    if (message.opened) this.keep(message.opened);
    if (message.gone || message.ended) this.keep("");
    this.onMessage(message);
  }

  lose() {
    this.socket = null;
    this.waiting.length = 0;
    if (this.token) this.retry = setTimeout(() => this.connect(), RETRY_MS);
    this.onLost(UNREACHABLE);
  }

  /** @param {string} token the room's key, or nothing */
  keep(token) {
    this.token = token;
    keepInTab(TAB_KEY, token || null);
  }

  destroy() {
    clearTimeout(this.retry);
    const { socket } = this;
    this.socket = null;
    socket?.close();
  }
}
