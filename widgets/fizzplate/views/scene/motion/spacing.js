// Room between drawn ions, and what stands in their way.


/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {import("./ions.js").Ion} Ion */
/** @typedef {{x: number, y: number, wide?: number}} Place wide: in the height of what stands there */

const APART = 2.1; // in an ion's radii, from middle to middle, above each other; beside each other as much more as they are wider than high
const TURNS = 4;
const SOON_S = 0.15; // from then on before it is due, a called ion makes no room

/** Whether an ion stands too close to a place. @param {Ion[]} ions @param {number} x @param {number} y @param {number} ionRadius */
export function isCrowded(ions, x, y, ionRadius) {
  const reach = (APART * ionRadius) ** 2;
  return ions.some((ion) => ((ion.x - x) / ion.wide) ** 2 + (ion.y - y) ** 2 < reach);
}

/** Whether neither a rod nor glass stands between an ion and a place. @param {Layout} layout @param {Ion} ion @param {Place} place */
function canReach(layout, ion, { x, y }) {
  const steps = Math.ceil(Math.hypot(x - ion.x, y - ion.y) / layout.ionRadius);
  for (let step = 1; step < steps; step += 1) {
    const share = step / steps;
    if (!layout.inside(ion.x + (x - ion.x) * share, ion.y + (y - ion.y) * share)) return false;
  }
  return true;
}

/**
 * The nearest ion of a kind that reaches a place straight through the liquid, or round a rod if none does, and is not called elsewhere.
 * @param {Layout} layout @param {Ion[]} ions @param {Place & {formula: string}} call
 */
export function nearestIon(layout, ions, call) {
  /** @type {Ion|null} */
  let nearest = null;
  let least = Infinity;
  for (const ion of ions) {
    if (ion.formula !== call.formula || ion.call || ion.left < Infinity) continue;
    const distance = (ion.x - call.x) ** 2 + (ion.y - call.y) ** 2;
    if (distance < least && canReach(layout, ion, call)) [nearest, least] = [ion, distance];
  }
  return nearest;
}

/**
 * Ions that lie on each other, or on a place that is taken, cannot be read: they make room. Who is called goes straight.
 * @param {Layout} layout @param {Ion[]} ions @param {Place[]} taken
 */
export function keepApart(layout, ions, taken) {
  const reach = APART * layout.ionRadius;
  const all = [...ions, ...taken].sort((a, b) => a.x - b.x);
  const free = new Set(ions.filter(({ call }) => !call || call.inS >= SOON_S));
  const fixed = all.map((each) => !free.has(/** @type {Ion} */ (each)));
  for (let turn = 0; turn < TURNS; turn += 1) {
    for (let i = 0; i < all.length; i += 1) {
      for (let j = i + 1; j < all.length && all[j].x - all[i].x < 1.6 * reach; j += 1) {
        if (fixed[i] && fixed[j]) continue;
        part(layout, all[i], all[j], reach, fixed[i], fixed[j]);
      }
    }
  }
}

/** @param {Layout} layout @param {Place} a @param {Place} b @param {number} reach @param {boolean} aStays @param {boolean} bStays */
function part(layout, a, b, reach, aStays, bStays) {
  const dx = (a.x - b.x) / (((a.wide ?? 1) + (b.wide ?? 1)) / 2);
  const dy = a.y - b.y;
  if (dx > reach || dx < -reach || dy > reach || dy < -reach) return;
  const distance = Math.hypot(dx, dy) || 1;
  if (distance >= reach) return;
  const push = (0.4 * (reach - distance)) / distance;
  if (!aStays) moveAlong(layout, a, push * dx, push * dy);
  if (!bStays) moveAlong(layout, b, -push * dx, -push * dy);
}

/** As far as there is liquid. @param {Layout} layout @param {Place} ion @param {number} dx @param {number} dy */
function moveAlong(layout, ion, dx, dy) {
  const { free } = layout;
  if (free(ion.x + dx, ion.y + dy)) [ion.x, ion.y] = [ion.x + dx, ion.y + dy];
  else if (free(ion.x, ion.y + dy)) ion.y += dy;
  else if (free(ion.x + dx, ion.y)) ion.x += dx;
}

/** Move an ion to a place; off glass and rods it bounces. @param {Layout} layout @param {Ion} ion @param {number} x @param {number} y */
export function moveOrBounce(layout, ion, x, y) {
  if (layout.free(x, y)) {
    ion.x = x;
    ion.y = y;
  } else if (layout.free(ion.x, y)) {
    ion.y = y;
    ion.vx *= -0.5;
  } else if (layout.free(x, ion.y)) {
    ion.x = x;
    ion.vy *= -0.5;
  } else {
    ion.vx *= -0.5;
    ion.vy *= -0.5;
  }
}
