// Whether the program answers: it is asked again and again, and whatever comes from it is an answer.

const BEAT_MS = 2000; // from an answer to the next request
const ANSWER_MS = 6000; // for an answer; with the above it stays below ten seconds
const MAX_DELAY_MS = 1000; // a timer later than this belongs to a computer that slept or a tab that was held back

/** A request that the program answers even while it is busy. @param {any} kernel */
const beatRequest = (kernel) => ({
  channel: "control",
  header: { msg_id: crypto.randomUUID?.() ?? `beat-${Date.now()}-${Math.random()}`, msg_type: "kernel_info_request", session: kernel.clientId, username: kernel.username ?? "", version: "5.2", date: new Date().toISOString() },
  parent_header: {},
  metadata: {},
  content: {},
  buffers: [],
});

/** @param {any} kernel @param {{onSilence: () => void, onAnswer: () => void}} handlers */
export function mountHeartbeat(kernel, { onSilence, onAnswer }) {
  let timer = 0;
  let deadline = 0;
  function beat() {
    clearTimeout(timer);
    if (document.hidden) return; // it is asked as soon as the page is seen again
    if (kernel.connectionStatus !== "connected" || kernel.status === "dead") return; // the connection tells of that
    kernel.sendControlMessage(beatRequest(kernel), false, true);
    deadline = Date.now() + ANSWER_MS;
    timer = setTimeout(checkAnswer, ANSWER_MS);
  }
  function checkAnswer() {
    if (document.hidden) return;
    if (Date.now() - deadline > MAX_DELAY_MS) beat();
    else onSilence();
  }
  /** @param {unknown} _ @param {{direction: string}} message */
  function onMessage(_, { direction }) {
    if (direction !== "recv") return;
    clearTimeout(timer);
    timer = setTimeout(beat, BEAT_MS);
    onAnswer();
  }
  kernel.anyMessage.connect(onMessage);
  document.addEventListener("visibilitychange", beat);
  beat();
  return {
    beat,
    destroy() {
      clearTimeout(timer);
      kernel.anyMessage.disconnect(onMessage);
      document.removeEventListener("visibilitychange", beat);
    },
  };
}
