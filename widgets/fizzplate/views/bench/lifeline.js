// What ties the page to its program: when it breaks, the picture goes on, one banner says so, and what
// only the program could answer is locked, so that nothing is typed that a reload would throw away.

const BREATH_MS = 5000; // a connection may be lost for so long without a word
const RESTARTED = ["restarting", "autorestarting", "dead"];
const LOST =
  "The program behind this page has ended. What is shown still plays. The set-up is locked as it is: reload, and it comes back.";
const GONE =
  "This page has lost its server. What is shown still plays. The set-up is locked as it is: reload once the server answers, and it comes back.";
const ASKING_CONTROLS = ":is(.jupyter-button, .widget-inline-hbox :is(input, select, textarea))";

/** The page's banner, whichever bench put it there. */
const bannerOfPage = () => document.querySelector("body > .fp-lost");

function raiseBanner() {
  const banner = document.createElement("div");
  banner.className = "fp-lost";
  banner.setAttribute("role", "alert");
  const reload = document.createElement("button");
  reload.type = "button";
  reload.className = "fp-button";
  reload.textContent = "Reload";
  reload.addEventListener("click", () => location.reload());
  banner.append(document.createElement("span"), reload);
  document.body.append(banner);
  return banner;
}

/** @param root the widget's own part of its page @param model the widget's, which knows the connection */
export function mountLifeline(root, model) {
  const kernel = model.widget_manager?.kernel;
  if (!kernel?.statusChanged || !kernel.connectionStatusChanged) return { destroy() {} };
  let lost = false;
  let told = false;
  let waiting = 0;
  let locked = [];

  function tell(text) {
    told = true;
    const banner = bannerOfPage() ?? raiseBanner();
    banner.firstElementChild.textContent = text;
    const page = root.closest(".fp-page") ?? root;
    const usable = [...page.querySelectorAll(ASKING_CONTROLS)].filter((control) => !control.disabled);
    for (const control of usable) control.disabled = true;
    locked.push(...usable);
  }
  function recover() {
    if (!told) return;
    told = false;
    bannerOfPage()?.remove();
    for (const control of locked) control.disabled = false;
    locked = [];
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
    if (status === "connected") recover();
    else waiting = setTimeout(() => tell(lost ? LOST : GONE), status === "disconnected" ? 0 : BREATH_MS);
  }
  kernel.statusChanged.connect(onStatus);
  kernel.connectionStatusChanged.connect(onConnection);
  return {
    destroy() {
      clearTimeout(waiting);
      kernel.statusChanged.disconnect(onStatus);
      kernel.connectionStatusChanged.disconnect(onConnection);
      recover();
    },
  };
}
