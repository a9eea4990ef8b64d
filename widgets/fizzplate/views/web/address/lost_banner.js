// The banner of a page that cannot reach its program. Its button reloads the page as soon as the server answers.

const ANSWER_MS = 6000; // for one answer of the server
const RETRY_MS = 1000; // between two requests to the server
const REASSURANCE = "What you see can still be played, and what you type is kept.";
const NO_SERVER_YET = `The server does not answer yet. ${REASSURANCE} The page goes on from here as soon as it does.`;

/** What the page says, by what has happened. */
export const LOSS_MESSAGES = {
  programEnded: `The program behind this page has ended. ${REASSURANCE} Reload the page to go on from here.`,
  outOfMemory: `The program behind this page needed more memory than a page may use, so it was stopped. ${REASSURANCE} Reload the page to go on from here.`,
  noServer: `This page has lost the connection to its server. ${REASSURANCE} Reload it to go on from here once the server answers.`,
  noAnswer: `The program behind this page does not answer. ${REASSURANCE} Wait for it, or reload the page to go on from here.`,
};

/** Whether anything answers where the page came from. @param {string} address */
async function serverAnswers(address) {
  try {
    const { status } = await fetch(address, { cache: "no-store", signal: AbortSignal.timeout(ANSWER_MS) });
    return status < 500; // a proxy may answer for a server that is not there
  } catch {
    return false;
  }
}

/** @param {() => string} address where the server is asked whether it is there */
export function raiseBanner(address) {
  const banner = document.createElement("div");
  banner.className = "fp-lost";
  banner.setAttribute("role", "alert");
  const message = document.createElement("span");
  const reload = document.createElement("button");
  reload.type = "button";
  reload.className = "fp-button";
  reload.textContent = "Reload";
  let retryTimer = 0;
  async function reloadOrRetry() {
    if (await serverAnswers(address())) location.reload();
    else if (banner.isConnected) {
      message.textContent = NO_SERVER_YET;
      retryTimer = setTimeout(reloadOrRetry, RETRY_MS);
    }
  }
  reload.addEventListener("click", () => {
    reload.disabled = true;
    reloadOrRetry();
  });
  banner.append(message, reload);
  document.body.append(banner);
  return {
    /** @param {string} text */
    show(text) {
      if (!reload.disabled && message.textContent !== text) message.textContent = text;
    },
    remove() {
      clearTimeout(retryTimer);
      banner.remove();
    },
  };
}
