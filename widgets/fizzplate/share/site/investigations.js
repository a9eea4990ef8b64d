// The investigations of a site: those whose cells it has runs of, with answers that were worked out beforehand.

import { renderInquiry } from "../../views/inquiry/inquiry.js";
import { createModel } from "../takeaway/model.js";

/**
 * @param {HTMLElement} host @param {any} explore items, cells, sweeps, answers and points by name
 * @param {(keys: string[]) => boolean} has whether the site has runs of cells
 * @param {(keys: string[], sweep: string) => void} setUp
 */
export function mountInvestigations(host, { items, cells, sweeps, answers, points }, has, setUp) {
  const offered = items.filter((/** @type {{name: string}} */ { name }) => has(cells[name]));
  host.hidden = !offered.length;
  if (!offered.length) return;
  const model = createModel({ items: offered, answers: {}, points: {} });
  model.on("change:setup_request", () => {
    const { name } = model.get("setup_request");
    setUp(cells[name], sweeps[name]);
  });
  model.on("change:answer_request", () => model.change({ answers, points }, "answers"));
  renderInquiry({ model, el: host });
}
