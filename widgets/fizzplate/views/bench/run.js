// One run on the bench, or a cell at rest: its picture, side cards, ruler, charts and words, all by one clock.

import { createClock, usualTimeLapse } from "../scene/motion/clock.js";
import { decodeRecord } from "../scene/record.js";
import { mountScene } from "../scene/scene.js";
import { roundVolumeText, timesText } from "../kit/format.js";
import { mountClassroom } from "./lesson/classroom.js";
import { mountCloseUp } from "./closeup.js";
import { mountFlows } from "./flows.js";
import { fillSideCard } from "./side_card.js";
import { mountLifted } from "./lifted.js";
import { mountPlots } from "./plots.js";
import { mountRuler } from "./ruler.js";
import { mountWords } from "./words.js";

function scaleText(clock, scene) {
  const { driftScale, eventStandsFor, layerEnlarged, bubbleCm3, notesBeside } = scene.summary();
  return [
    `time ×${clock.timeLapse}`,
    driftScale && `drift drawn ${timesText(driftScale)} in all`,
    eventStandsFor,
    layerEnlarged && `layer drawn ${timesText(layerEnlarged)}`,
    bubbleCm3 && `one bubble ${roundVolumeText(bubbleCm3)}`,
    ...notesBeside,
  ].filter(Boolean).join(" · ");
}

/**
 * @param layout parts of the page @param model the widget's, which holds what is shown
 * @param shown how it is shown: reduced motion, whether the page is narrow, what the reader chose, where each run was left,
 *   what outlasts a run, and the run that stood here before a reload
 */
export function mountRun(layout, model, { reducedMotion, narrow, chosen, playheads, lasting, left }) {
  const sent = model.get("lesson");
  const resumed = sent.on && left?.key === sent.key ? left : null; // the run that was shown before
  const lesson = resumed ? { ...sent, again: true, step: resumed.step } : sent;
  const record = decodeRecord(model.get("header"), model.get("samples"));
  const durationS = record.timeS.at(-1);
  const clock = createClock({ durationS, timeLapse: resumed?.timeLapse ?? usualTimeLapse(durationS) });
  layout.canvas.setAttribute("aria-label", lesson.picture);
  const scene = mountScene(layout.canvas, record, clock, {
    reducedMotion,
    unnamed: true, // until it may be shown
    ...chosen,
  });
  const sideCards = layout.sideCards.map((node, index) =>
    fillSideCard(node, lesson.electrodes[index], index, record, { folded: narrow(), place: model.get("place") }),
  );
  const lifted = mountLifted(layout.lifted, record, lesson);
  lasting.table.nameElectrodes(record.header.slots);
  const words = mountWords(layout, lesson);
  const ruler = mountRuler(layout.ruler, clock, durationS, {
    on: lesson.on,
    scale: () => scaleText(clock, scene),
    indicators: Object.keys(record.header.indicators),
    chosen,
    lifted,
    choose(what, name) {
      chosen[what] = name;
      if (what === "indicator") scene.setIndicator(name);
      else scene.setParticles(name);
    },
  });
  const followers = [...sideCards, ruler, lifted, words, mountFlows(layout.flows, record, lesson.on)];
  let plots = /** @type {ReturnType<typeof mountPlots>|null} */ (null);
  let closeUp = /** @type {ReturnType<typeof mountCloseUp>|null} */ (null);
  const follow = () => [...followers, plots].forEach((each) => each?.update(clock.timeS));
  const plot = () => {
    plots = mountPlots(layout.charts, model.get("charts"), record, durationS, lesson.on, layout.number);
    follow();
  };
  layout.charts.replaceChildren();
  layout.closeUp.replaceChildren();
  layout.closeUp.hidden = true;
  const classroom = mountClassroom(layout, lesson, scene, record.header.slots, lasting, {
    electrode: (index) => sideCards[index].reveal(),
    all() {
      closeUp = mountCloseUp(layout.closeUp, record, lesson);
      ruler.reveal(closeUp);
      for (const each of [words, lifted, scene]) each.reveal();
      plot();
      if (!lesson.asking) return;
      model.set("reveals_products", true);
      model.save_changes();
    },
  }, () => ruler.uncover());
  const unsubscribe = clock.subscribe(follow);
  if (lesson.again) clock.seek(resumed?.timeS ?? playheads.get(lesson.key) ?? durationS);
  else if (lesson.on && reducedMotion) clock.seek(durationS);
  else if (lesson.on) clock.play();
  if (resumed?.playing) clock.play();
  follow();
  return {
    refreshTheme: () => scene.refreshTheme(),
    /** The charts have come; where the class is asked, they wait. */
    plot: () => plots && plot(),
    opened: classroom.opened,
    step: classroom.step,
    left: () => (lesson.on ? { key: lesson.key, timeS: clock.timeS, timeLapse: clock.timeLapse, playing: clock.playing, step: classroom.shownStep() } : null),
    fold: (isNarrow) => sideCards.forEach((sideCard) => sideCard.fold(isNarrow)),
    destroy() {
      if (lesson.key) playheads.set(lesson.key, clock.timeS);
      unsubscribe();
      ruler.destroy();
      closeUp?.destroy();
      scene.destroy();
      clock.destroy();
    },
  };
}
