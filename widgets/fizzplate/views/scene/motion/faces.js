// Where at an electrode something takes place: away from what happens there at the same time.

/** @typedef {import("../vessels/vessel.js").Layout} Layout */
/** @typedef {{x: number, y: number, count: number, fromS: number, toS: number}} Taken count: of ions above one another */

const TRIES = 12;
const OUTER_ROOM = { plain: 2.6, wide: 4.4 }; // in an ion's radii, between the outer face and the glass
const TRAP = 2.2; // of an ion's radius: a narrower gap holds an ion without room
const NEAR = 1.15; // of an ion's radius, from a face to the middle of an ion at it

/** How far apart ions of one event stand, in their radii: four find room, two can be read. @param {number} count */
export const spacingOf = (count) => (count > 2 ? 1.5 : 2);

/**
 * A place on a face of a rod, which way is out of it, and how far (px) the nearest other thing is.
 * @param {Layout} layout @param {number} side @param {number} count of ions above one another @param {() => number} random
 * @param {Taken[]} taken @param {{fromS: number, toS: number, isWide?: boolean}} time isWide: whether more leaves the face than one product
 */
export function placeOnFace(layout, side, count, random, taken, { fromS, toS, isWide = false }) {
  const r = layout.ionRadius;
  const rod = layout.electrodes[side];
  const meanwhile = taken.filter((each) => each.fromS < toS && each.toS > fromS);
  const half = ((count - 1) / 2) * spacingOf(count) * r;
  const low = layout.liquidTop + 1.1 * r + half;
  const high = Math.max((layout.lowest ?? rod.y + rod.height - 0.4 * r) - half, low);
  let best = { faceX: 0, out: 1, x: 0, y: 0, room: 0 };
  let most = -Infinity;
  for (let attempt = 0; attempt < TRIES; attempt += 1) {
    const isInner = layout.innerShare === 1 || attempt % 2 === 0;
    const isRight = (side === 0) === isInner;
    const [faceX, out] = isRight ? [rod.x + rod.width, 1] : [rod.x, -1];
    const below = random() * (high - low);
    const y = low + (below < TRAP * r && high - low > 2 * TRAP * r ? 0 : below); // no gap above in which an ion is caught
    const x = faceX + out * r * NEAR;
    const needed = isWide || count > 2 ? OUTER_ROOM.wide : OUTER_ROOM.plain;
    if (!isInner && layout.level && !layout.inside(faceX + out * r * needed, y)) continue;
    const room = Math.min(4 * r, ...meanwhile.map((each) => Math.hypot(each.x - x, Math.max(0, Math.abs(each.y - y) - half - (each.count - 1) * r))));
    if (room > most) [best, most] = [{ faceX, out, x, y, room }, room];
  }
  return best;
}
