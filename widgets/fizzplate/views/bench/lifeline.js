// What ties the page to its program: when it breaks, the picture goes on and a banner says so.

const BREATH_MS = 5000; // a connection may be lost for so long without a word
const RESTARTED = ["restarting", "autorestarting", "dead"];
const LOST = "The program behind this page has ended. What is shown still plays; to run anything new, reload.";
const GONE = "This page has lost its server. What is shown still plays; to run anything new, reload once it answers.";

/** @param root where the banner stands @param model the widget's, which knows the connection */
export function mountLifeline(root, model) {
  const kernel = model.widget_manager?.kernel;
  if (!kernel?.statusChanged || !kernel.connectionStatusChanged) return { destroy() {} };
  const banner = document.createElement("div");
  banner.className = "fp-lost";
  banner.setAttribute("role", "alert");
  banner.hidden = true;
  const words = document.createElement("span");
  const reload = document.createElement("button");
  reload.type = "button";
  reload.className = "fp-button";
  reload.textContent = "Reload";
  const dismiss = new AbortController();
  reload.addEventListener("click", () => location.reload(), { signal: dismiss.signal });
  banner.append(words, reload);
  root.prepend(banner);
  let lost = false;
  let waiting = 0;

  function tell(text) {
    words.textContent = text;
    banner.hidden = !text;
  }
  function onStatus(_, status) {
    // what replaces an ended program is an empty one: nothing on the page belongs to it
    if (!RESTARTED.includes(status)) return;
    lost = true;
    tell(LOST);
  }
  function onConnection(_, status) {
    clearTimeout(waiting);
    if (lost) return;
    if (status === "connected") tell("");
    else waiting = setTimeout(() => tell(lost ? LOST : GONE), status === "disconnected" ? 0 : BREATH_MS);
  }
  kernel.statusChanged.connect(onStatus);
  kernel.connectionStatusChanged.connect(onConnection);
  return {
    destroy() {
      clearTimeout(waiting);
      kernel.statusChanged.disconnect(onStatus);
      kernel.connectionStatusChanged.disconnect(onConnection);
      dismiss.abort();
      banner.remove();
    },
  };
}
