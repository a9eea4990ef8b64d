// The half-equation workshop of a site.

import { mountScreenSwitches, screenSwitchGroup } from "../../views/kit/screen.js";
import { renderWorkshop } from "../../views/workshop/workshop.js";
import { hostIn } from "../takeaway/hosts.js";
import { createModel } from "../takeaway/model.js";
import { openSitePage } from "./opening.js";

export const openPage = () => openSitePage((page, { workshop }) => {
  const more = hostIn(page, "fp-more");
  renderWorkshop({ model: createModel({ data: workshop.workshop }), el: hostIn(more, "fp-workshop-host") });
  const switches = screenSwitchGroup();
  page.append(switches);
  mountScreenSwitches(switches, null, () => {}, ["Dim room", "Projector size"]);
});
