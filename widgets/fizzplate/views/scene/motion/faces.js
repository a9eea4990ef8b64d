// Where at an electrode something takes place: away from what happens there at the same time.

/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {{x: number, y: number, count: number, fromS: number, toS: number}} Taken count: of ions above one another */

const TRIES = 12;
const OUTER_ROOM = { plain: 2.6, wide: 4.4 }; // in an ion's radii, between the outer face and the glass
const TRAP = 2.2; // of an ion's radius: a narrower gap holds an ion without room
const NEAR = 1.15; // of an ion's radius, from a face to the middle of an ion at it

const FULL = 4; // ions of an event from which they are drawn smaller, to find room
const SMALLER = 0.74;

/**
 * How ions of one event stand above one another: four find room, two can be read. Where the liquid is low they stand closer, and are smaller.
 * @param {Layout} layout @param {number} count @returns {{spacing: number, scale: number}} how far apart, in their radii, and their size, of an ion's
 */
export function stackOf({ bounds, ionRadius }, count) {
  const [spacing, scale] = [count > 2 ? 1.5 : 2, count >= FULL ? SMALLER : 1];
  const squeezed = Math.min(1, (bounds.height / ionRadius - 0.3) / ((count - 1) * spacing + 2 * scale));
  return { spacing: spacing * squeezed, scale: scale * squeezed };
}

/**
 * A place on a face of a rod, which way is out of it, and how far (px) the nearest other thing is.
 * @param {Layout} layout @param {number} side @param {number} count of ions above one another @param {() => number} random
 * @param {Taken[]} taken @param {{fromS: number, toS: number, released?: number}} time released: how many leave the face besides the product
 */
export function placeOnFace(layout, side, count, random, taken, { fromS, toS, released = 0 }) {
  const r = layout.ionRadius;
  const rod = layout.electrodes[side];
  const meanwhile = taken.filter((each) => each.fromS < toS && each.toS > fromS);
  const { spacing, scale } = stackOf(layout, count);
  const half = ((count - 1) / 2) * spacing * r;
  const whole = Math.max(half + 1.1 * scale * r, released * stackOf(layout, released).scale * r);
  const low = layout.liquidTop + whole;
  const lowest = Math.min((layout.lowest ?? rod.y + rod.height - 0.4 * r) - half, layout.bounds.y + layout.bounds.height - whole);
  const high = Math.max(lowest, low);
  let best = { faceX: 0, out: 1, x: 0, y: 0, room: 0 };
  let most = -Infinity;
  for (let attempt = 0; attempt < TRIES; attempt += 1) {
    const isInner = layout.innerShare === 1 || attempt % 2 === 0;
    const isRight = (side === 0) === isInner;
    const [faceX, out] = isRight ? [rod.x + rod.width, 1] : [rod.x, -1];
    const below = random() * (high - low);
    const y = low + (below < TRAP * r && high - low > 2 * TRAP * r ? 0 : below); // no gap above in which an ion is caught
    const x = faceX + out * r * NEAR;
    const needed = released > 0 || count > 2 ? OUTER_ROOM.wide : OUTER_ROOM.plain;
    if (!isInner && layout.level && !layout.inside(faceX + out * r * needed, y)) continue;
    const outside = layout.level || layout.inside(x, y) ? 0 : 5 * r; // a molecule would stand on the glass of a bend
    const room = -outside + Math.min(4 * r, ...meanwhile.map((each) => Math.hypot(each.x - x, Math.max(0, Math.abs(each.y - y) - half - (each.count - 1) * r))));
    if (room > most) [best, most] = [{ faceX, out, x, y, room }, room];
  }
  return best;
}
