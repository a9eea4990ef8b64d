// The bench's skeleton: made once, filled anew for each run.

const SKELETON = `
  <nav class="fp-path" aria-label="Steps of the lesson" hidden></nav>
  <article class="fp-side-card fp-side-card-cathode"></article>
  <div class="fp-stage">
    <section class="fp-first-visit" aria-label="Try this first" hidden></section>
    <figure class="fp-scene">
      <canvas role="img" aria-label="The cell"></canvas>
      <p class="fp-outdated-status" role="status"></p>
      <section class="fp-closeup fp-close-up-view" aria-label="Close-up" hidden></section>
      <section class="fp-closeup fp-electrodes-view" aria-label="Electrodes lifted out" hidden></section>
      <section class="fp-closeup fp-change-view" aria-label="Change something" hidden></section>
    </figure>
    <div class="fp-ruler" role="group" aria-label="Time in the run"></div>
    <p class="fp-changed fp-spoken" role="status"></p>
  </div>
  <article class="fp-side-card fp-side-card-anode"></article>
  <div class="fp-foot">
    <div class="fp-panels">
      <div class="fp-locked-notice" hidden></div>
      <div class="fp-charts fp-panel" id="fp-panel-charts"></div>
      <div class="fp-explain fp-panel" id="fp-panel-explain" hidden></div>
      <div class="fp-testing fp-panel" id="fp-panel-test" hidden></div>
      <div class="fp-table fp-panel" id="fp-panel-table" hidden></div>
    </div>
    <section class="fp-commentary" aria-label="What is happening" tabindex="0">
      <h2 class="fp-commentary-head">What is happening</h2>
      <div class="fp-step-words" hidden>
        <h2 class="fp-step-head" tabindex="-1"></h2>
        <p class="fp-step-line" aria-live="polite"></p>
        <div class="fp-order-place"></div>
      </div>
      <p class="fp-sentence" aria-live="polite"></p>
      <p class="fp-current fp-spoken" role="status"></p>
      <div class="fp-notes"></div>
    </section>
    <div class="fp-onward" hidden>
      <button type="button" class="fp-button fp-back">Back</button>
      <button type="button" class="fp-button fp-next"></button>
    </div>
  </div>
  <section class="fp-room" aria-label="The class's answers" hidden></section>
  <div class="fp-data-table"></div>
  <div class="fp-screen-switches" role="group" aria-label="Room"></div>`;

/** @param host where it goes @param {string} place which of a page's benches it is, in words */
export function buildLayout(host, place) {
  const root = document.createElement("div");
  root.className = "fp-bench";
  root.innerHTML = SKELETON;
  // each bench loads a module of its own, so that only the page can count them for unique ids
  const page = document.documentElement.dataset;
  page.fpBenches = String(Number(page.fpBenches ?? 0) + 1);
  for (const panel of root.querySelectorAll(".fp-panel")) panel.id += `-${page.fpBenches}`;
  if (place) {
    for (const part of root.querySelectorAll("[aria-label]")) {
      part.setAttribute("aria-label", `${part.getAttribute("aria-label")}, ${place}`);
    }
  }
  host.append(root);
  const part = (name) => root.querySelector(name);
  return {
    root,
    number: page.fpBenches,
    sideCards: [part(".fp-side-card-cathode"), part(".fp-side-card-anode")],
    canvas: part("canvas"),
    status: part(".fp-outdated-status"),
    closeUp: part(".fp-close-up-view"),
    lifted: part(".fp-electrodes-view"),
    change: part(".fp-change-view"),
    changed: part(".fp-changed"),
    panels: part(".fp-panels"),
    stage: part(".fp-stage"),
    ruler: part(".fp-ruler"),
    charts: part(".fp-charts"),
    explain: part(".fp-explain"),
    testing: part(".fp-testing"),
    table: part(".fp-table"),
    lockedNotice: part(".fp-locked-notice"),
    commentary: part(".fp-commentary"),
    sentence: part(".fp-sentence"),
    flows: part(".fp-current"),
    notes: part(".fp-notes"),
    firstVisit: part(".fp-first-visit"),
    path: part(".fp-path"),
    stepWords: part(".fp-step-words"),
    heading: part(".fp-step-head"),
    line: part(".fp-step-line"),
    order: part(".fp-order-place"),
    onward: part(".fp-onward"),
    back: part(".fp-back"),
    next: part(".fp-next"),
    room: part(".fp-room"),
    unseen: part(".fp-data-table"),
    screenSwitches: part(".fp-screen-switches"),
  };
}
