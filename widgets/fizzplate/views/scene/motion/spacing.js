// Room between drawn ions, and what stands in their way.

/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {import("./ions.js").Ion} Ion */

const REPULSION_PX_S2 = 900;

/** Whether an ion stands too close to a place. @param {Iterable<Ion[]>} lists @param {number} x @param {number} y @param {number} ionRadius */
export function isCrowded(lists, x, y, ionRadius) {
  const reach = (1.8 * ionRadius) ** 2;
  for (const list of lists) {
    for (const ion of list) if ((ion.x - x) ** 2 + (ion.y - y) ** 2 < reach) return true;
  }
  return false;
}

/** Whether neither a rod nor glass stands between an ion and a place. @param {Layout} layout @param {Ion} ion @param {number} x @param {number} y */
function canReach(layout, ion, x, y) {
  const steps = Math.ceil(Math.hypot(x - ion.x, y - ion.y) / layout.ionRadius);
  for (let step = 1; step < steps; step += 1) {
    const share = step / steps;
    if (!layout.inside(ion.x + (x - ion.x) * share, ion.y + (y - ion.y) * share)) return false;
  }
  return true;
}

/**
 * The nearest ion that reaches a place straight through the liquid and is not called elsewhere.
 * @param {Layout} layout @param {Ion[]} list @param {number} x @param {number} y
 */
export function nearestIon(layout, list, x, y) {
  /** @type {Ion|null} */
  let nearest = null;
  let least = Infinity;
  for (const ion of list) {
    const distance = (ion.x - x) ** 2 + (ion.y - y) ** 2;
    if (distance < least && !ion.called && canReach(layout, ion, x, y)) [nearest, least] = [ion, distance];
  }
  return nearest;
}

/** Ions that lie on each other cannot be read: push them apart a little. @param {Ion[]} ions @param {number} ionRadius @param {number} passedS */
export function pushApart(ions, ionRadius, passedS) {
  const reach = 2.1 * ionRadius;
  for (let i = 0; i < ions.length; i += 1) {
    for (let j = i + 1; j < ions.length; j += 1) {
      const dx = ions[i].x - ions[j].x;
      const dy = ions[i].y - ions[j].y;
      if (dx > reach || dx < -reach || dy > reach || dy < -reach) continue;
      const distance = Math.hypot(dx, dy) || 1;
      if (distance >= reach) continue;
      const push = (REPULSION_PX_S2 * passedS * (reach - distance)) / (reach * distance);
      ions[i].vx += dx * push;
      ions[i].vy += dy * push;
      ions[j].vx -= dx * push;
      ions[j].vy -= dy * push;
    }
  }
}

/** Move an ion to a place; off glass and rods it bounces. @param {Layout} layout @param {Ion} ion @param {number} x @param {number} y */
export function moveOrBounce(layout, ion, x, y) {
  if (layout.inside(x, y)) {
    ion.x = x;
    ion.y = y;
  } else if (layout.inside(ion.x, y)) {
    ion.y = y;
    ion.vx *= -0.5;
  } else if (layout.inside(x, ion.y)) {
    ion.x = x;
    ion.vy *= -0.5;
  } else {
    ion.vx *= -0.5;
    ion.vy *= -0.5;
  }
}
