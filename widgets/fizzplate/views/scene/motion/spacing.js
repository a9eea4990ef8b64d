// Room between drawn ions, and what stands in their way.


/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {import("./ions.js").Ion} Ion */
/** @typedef {{x: number, y: number, wide?: number}} Place wide: in the height of what stands there */
/** @typedef {{left: number, right: number, top: number, bottom: number, out: number}} Zone which nobody may enter; out: -1 or 1, away from the face behind it; 0, none is */

const APART = 2.1; // in an ion's radii, from middle to middle, above each other; beside each other as much more as they are wider than high
const BELOW = 1.2; // radii below a rod, on the way round it
const TURNS = 4;
const MANY = 100; // ions: from there one turn is enough, since none is read from afar
const LEAVES = 0.3; // of an ion's radius: its way out of a zone, in a step
const ASIDE = 0.25; // of the way that two are pushed apart, across it: in a row there is no other way out
const SOON_S = 0.2; // from then on before it is due, a called ion makes no room

/** Whether an ion stands too close to a place. @param {Ion[]} ions @param {number} x @param {number} y @param {number} ionRadius */
export function isCrowded(ions, x, y, ionRadius) {
  const reach = (APART * ionRadius) ** 2;
  return ions.some((ion) => ((ion.x - x) / ion.wide) ** 2 + (ion.y - y) ** 2 < reach);
}

/** Whether neither a rod nor glass stands between two places. @param {Layout} layout @param {Place} ion @param {Place} place */
function canReach(layout, ion, { x, y }) {
  const steps = Math.ceil(Math.hypot(x - ion.x, y - ion.y) / layout.ionRadius);
  for (let step = 1; step < steps; step += 1) {
    const share = step / steps;
    if (!layout.inside(ion.x + (x - ion.x) * share, ion.y + (y - ion.y) * share)) return false;
  }
  return true;
}

/**
 * Where an ion heads for on its way to a place at a rod: to the place itself, or first below the rod's end; null if neither leads there.
 * @param {Layout} layout @param {Ion} ion @param {Place} place @returns {Place|null}
 */
export function wayTo(layout, ion, place) {
  if (canReach(layout, ion, place)) return place;
  const [left, right] = layout.electrodes;
  const rod = place.x < (left.x + right.x + right.width) / 2 ? left : right;
  const below = { x: place.x, y: rod.y + rod.height + BELOW * layout.ionRadius };
  return canReach(layout, ion, below) && canReach(layout, below, place) ? below : null;
}

/**
 * The nearest ion of a kind that reaches a place straight through the liquid, or round a rod if none does, and is not called elsewhere.
 * @param {Layout} layout @param {Ion[]} ions @param {Place & {formula: string}} call
 */
export function nearestIon(layout, ions, call) {
  /** @param {Ion} ion */
  const away = (ion) => Math.hypot(ion.x - call.x, ion.y - call.y);
  const free = ions.filter(({ formula, call: busy, left }) => formula === call.formula && !busy && left === Infinity);
  const byDistance = free.sort((a, b) => away(a) - away(b));
  return byDistance.find((ion) => canReach(layout, ion, call)) ?? byDistance.find((ion) => wayTo(layout, ion, call)) ?? null;
}

/** Half the room that an ion takes. @param {Layout} layout @param {Ion} ion */
const reachOf = ({ ionRadius }, { wide }) => ({ wide: wide * ionRadius, high: 0.95 * ionRadius });

/** Whether an ion at a place would stand in a zone. @param {Zone} zone @param {Place} place @param {{wide: number, high: number}} reach */
const isIn = ({ left, right, top, bottom }, { x, y }, { wide, high }) => x + wide > left && x - wide < right && y + high > top && y - high < bottom;

/**
 * Ways out of a zone: away from the face, or above or below; where others stand there too, the nearest place that is in none.
 * @param {Layout} layout @param {Ion} ion @param {Zone} zone @param {Zone[]} zones @returns {Place[]}
 */
function exitsFrom(layout, ion, zone, zones) {
  const reach = reachOf(layout, ion);
  const { left, right, top, bottom, out } = zone;
  const nearest = [
    ...(out < 0 ? [] : [{ x: right + reach.wide, y: ion.y }]),
    ...(out > 0 ? [] : [{ x: left - reach.wide, y: ion.y }]),
    { x: ion.x, y: top - reach.high },
    { x: ion.x, y: bottom + reach.high },
  ].filter(({ x, y }) => layout.free(x, y));
  const isClear = (/** @type {Place} */ place) => !zones.some((each) => each !== zone && isIn(each, place, reach));
  const clear = nearest.filter(isClear);
  if (clear.length) return clear;
  const step = layout.ionRadius;
  const { bounds } = layout;
  const others = [];
  for (let x = bounds.x + step; x < bounds.x + bounds.width; x += step) {
    for (let y = bounds.y + step; y < bounds.y + bounds.height; y += step) {
      if (layout.free(x, y) && isClear({ x, y }) && !isIn(zone, { x, y }, reach)) others.push({ x, y });
    }
  }
  return others.length ? others : nearest;
}

/**
 * Ions leave room that an event at an electrode needs as a whole, or a sign, by the nearest way.
 * Pushed by each of its ions alone they would be caught between them.
 * @param {Layout} layout @param {Ion[]} ions @param {Zone[]} zones
 */
export function clearZones(layout, ions, zones) {
  for (const zone of zones) {
    for (const ion of ions) {
      if (isDue(ion) || !isIn(zone, ion, reachOf(layout, ion))) continue;
      const exits = exitsFrom(layout, ion, zone, zones);
      const away = exits.map(({ x, y }) => Math.abs(x - ion.x) + Math.abs(y - ion.y));
      const exit = exits[away.indexOf(Math.min(...away))];
      if (!exit) continue;
      const share = Math.min(1, (LEAVES * layout.ionRadius) / Math.min(...away));
      ion.x += (exit.x - ion.x) * share;
      ion.y += (exit.y - ion.y) * share;
    }
  }
}

/**
 * Ions that lie on each other, or on a place that is taken, cannot be read: they make room. Who is called goes straight.
 * @param {Layout} layout @param {Ion[]} ions @param {Place[]} taken
 */
export function keepApart(layout, ions, taken) {
  const reach = APART * layout.ionRadius;
  const all = /** @type {Place[]} */ (taken).concat(ions).sort((a, b) => a.x - b.x);
  const stays = all.map((each) => !("call" in each) || isDue(/** @type {Ion} */ (each)));
  const turns = ions.length > MANY ? 1 : TURNS;
  for (let turn = 0; turn < turns; turn += 1) {
    let moved = false;
    for (let i = 0; i < all.length; i += 1) {
      const end = all[i].x + 1.6 * reach;
      for (let j = i + 1; j < all.length && all[j].x < end; j += 1) {
        if (!(stays[i] && stays[j]) && part(layout, all[i], all[j], reach, stays[i], stays[j])) moved = true;
      }
    }
    if (!moved) return;
  }
}

/** @param {Ion} ion */
const isDue = ({ call }) => call !== null && call.inS < SOON_S;

/** Whether two were too close. @param {Layout} layout @param {Place} a @param {Place} b @param {number} reach @param {boolean} aStays @param {boolean} bStays */
function part(layout, a, b, reach, aStays, bStays) {
  const dy = a.y - b.y;
  if (dy > reach || dy < -reach) return false;
  const dx = (a.x - b.x) / (((a.wide ?? 1) + (b.wide ?? 1)) / 2);
  const distance = Math.sqrt(dx * dx + dy * dy) || 1;
  if (distance >= reach) return false;
  const push = (0.4 * (reach - distance)) / distance;
  const aside = Math.abs(dy) < ASIDE * Math.abs(dx) ? ASIDE * push * Math.abs(dx) * (dy < 0 ? -1 : 1) : 0;
  if (!aStays) moveAlong(layout, a, push * dx, push * dy + aside);
  if (!bStays) moveAlong(layout, b, -push * dx, -push * dy - aside);
  return true;
}

/** As far as there is liquid; out of a corner, along the glass. @param {Layout} layout @param {Place} ion @param {number} dx @param {number} dy */
function moveAlong(layout, ion, dx, dy) {
  const { free } = layout;
  if (free(ion.x + dx, ion.y + dy)) {
    ion.x += dx;
    ion.y += dy;
  } else if (free(ion.x, ion.y + dy)) ion.y += dy;
  else if (free(ion.x + dx, ion.y)) ion.x += dx;
  else {
    const far = Math.hypot(dx, dy);
    const way = [[-dy, dx], [dy, -dx], [far, 0], [-far, 0], [0, far]].find(([wayX, wayY]) => free(ion.x + wayX, ion.y + wayY));
    if (!way) return;
    ion.x += way[0];
    ion.y += way[1];
  }
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
