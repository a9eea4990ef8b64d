// What the drawing of a vessel must say: where liquid and electrodes stand, and which place of the
// model a point shows. The unmixed layer at each electrode is far too thin to be seen; it is drawn wider.

/**
 * @typedef {{x: number, y: number, width: number, height: number}} Box
 * @typedef {{
 *   width: number, height: number, narrow: boolean, stroke: number, ionRadius: number, liquidArea: number,
 *   electrodes: Box[], lowest?: number, gapPx: number, liquidTop: number, innerShare: number, level: boolean, deep: boolean, caption: string,
 *   trace: (pen: CanvasRenderingContext2D) => void,
 *   outline: (pen: CanvasRenderingContext2D) => void,
 *   inside: (x: number, y: number) => boolean, free: (x: number, y: number) => boolean, bounds: Box, surfaces: number[][],
 *   along: (x: number, y: number) => number,
 *   fill: (pen: CanvasRenderingContext2D, colourAt: ColourAt, byDepth?: boolean) => void,
 *   direction: (x: number, y: number) => {x: number, y: number},
 *   wall?: number, isOneOfTwo?: boolean, heat?: {top: number, height: number}
 * }} Layout
 */

/** @typedef {{now: number, most: number}} Filling volume of the liquid now and at most, in proportion to the start */

/** @typedef {(along: number, depth?: number) => string} ColourAt depth: share of the liquid's, 0 at its surface */

// stroke: thickness of a plain line
// inside: whether an ion can be there; free: whether one that is not called to an electrode may wander there
// surfaces: from where to where the liquid's surface lies between glass and glass; none seen from above
// lowest: to where something happens at an electrode, if not to its end
// gapPx: the drawn way from face to face
// innerShare: of what happens at an electrode, on the face towards the other
// level: whether the way of the current is from left to right everywhere
// wall: how thick, in plain lines, where it is not glass; heat: room below the vessel for what heats it
// isOneOfTwo: whether another picture stands beside it
// deep: whether what is dense sinks across that way

export const MAX_IONS = 400;
export const MIN_AREA_PER_ION = 7; // of drawn liquid for each ion, in squares of its radius
const FILM_SHARE = 0.16; // of the drawn gap, each; a test holds it equal to the charts'

/** @type {Filling} */
export const AS_FILLED = { now: 1, most: 1 };

/**
 * Depth of the liquid at the start: as usual, or less where so much is poured in that it would not find room.
 * @param {number} usual @param {number} most @param {Filling} filling
 */
export const depthAtStart = (usual, most, filling) => Math.min(usual, most / filling.most);

/** @param {number} value @param {number} low @param {number} high */
export const clamp = (value, low, high) => Math.min(Math.max(value, low), high);

/**
 * Place in the model (m) for a drawn fraction of the gap: the films widened.
 * @param {number} fraction @param {number} gapM @param {number} filmM
 */
export function modelPlace(fraction, gapM, filmM) {
  const s = clamp(fraction, 0, 1);
  if (!filmM) return s * gapM;
  if (s < FILM_SHARE) return (s / FILM_SHARE) * filmM;
  if (s > 1 - FILM_SHARE) return gapM - ((1 - s) / FILM_SHARE) * filmM;
  return filmM + ((s - FILM_SHARE) / (1 - 2 * FILM_SHARE)) * (gapM - 2 * filmM);
}

const RADIUS = { ofWidth: 0.0313, ofHeight: 0.072, leastPx: 15.5 }; // so that labels are read: the least on a phone

/** Radius of an ion that is read from the back row. @param {number} width @param {number} height @param {number} [least] px */
export const plainRadius = (width, height, least = 0) => Math.max(Math.min(width * RADIUS.ofWidth, height * RADIUS.ofHeight), RADIUS.leastPx, least);

const RADII_DEEP = 3; // of the liquid at least: one and a half ions above one another

/** The radius that finds room in a liquid. @param {number} radius @param {number} depth of the liquid at the start */
export const fitting = (radius, depth) => Math.min(radius, depth / RADII_DEEP);

export const WIDE = 1.12; // an ion's reach to either side, in its radii: long labels widen some

const LOW_PX = 340;

/** Whether a picture is so low that its liquid takes the room that is else left above it. @param {number} height */
export const isLow = (height) => height < LOW_PX;

/** Sizes that all drawings share. @param {number} width @param {number} height @param {number} scale of the ions @param {number} [least] radius of an ion (px) */
export function sizes(width, height, scale, least) {
  return {
    narrow: width < 560,
    ionRadius: scale * plainRadius(width, height, least),
    circuit: Math.max(height * 0.23, isLow(height) && width >= 560 ? 64 : 76),
    stroke: clamp(width / 1000, 0.8, 4),
  };
}

const SHADES = 48; // of the liquid's colour
const BANDS = 40; // of its depth, where the colour differs by depth

/**
 * Fill a box with the colours along the cell from left to right.
 * @param {CanvasRenderingContext2D} pen @param {Box} box
 * @param {(x: number) => number} along @param {ColourAt} colourAt @param {boolean} [byDepth]
 */
export function fillAcross(pen, box, along, colourAt, byDepth = false) {
  const bands = byDepth ? BANDS : 1;
  // whole pixels: no seams between the bands
  const edge = (/** @type {number} */ band) => {
    const y = box.y + (band * box.height) / bands;
    return band % bands ? Math.round(y) : y;
  };
  for (let band = 0; band < bands; band += 1) {
    const shades = pen.createLinearGradient(box.x, 0, box.x + box.width, 0);
    for (let column = 0; column <= SHADES; column += 1) {
      const share = column / SHADES;
      shades.addColorStop(share, colourAt(along(box.x + share * box.width), byDepth ? (band + 0.5) / bands : undefined));
    }
    pen.fillStyle = shades;
    pen.fillRect(box.x, edge(band), box.width, edge(band + 1) - edge(band));
  }
}

/**
 * Two upright rods from one height to another, their axes at shares of a width.
 * @param {number[]} shares @param {{x: number, width: number}} across
 * @param {number} thick @param {number} top @param {number} bottom @returns {Box[]}
 */
export function uprightRods(shares, across, thick, top, bottom) {
  return shares.map((share) => ({
    x: across.x + share * across.width - thick / 2,
    y: top,
    width: thick,
    height: bottom - top,
  }));
}

/**
 * What two upright rods in one liquid make of the places beside, between and below them.
 * @param {Box[]} electrodes
 */
export function aroundRods([first, second]) {
  const left = first.x + first.width;
  const gap = second.x - left;
  return {
    /** Behind a rod the same layers lie as before it: its whole surface works. @param {number} x */
    along(x) {
      if (x < left) return clamp((first.x - x) / gap, 0, 0.5);
      if (x > second.x) return 1 - clamp((x - second.x - second.width) / gap, 0, 0.5);
      return (x - left) / gap;
    },
    /** @param {number} x */
    direction: (x) => ({ x: x < first.x || x > second.x + second.width ? -1 : 1, y: 0 }),
    /** Whether a disc of a radius touches neither rod. @param {number} x @param {number} y @param {number} r */
    clear: (x, y, r) =>
      ![first, second].some(
        (rod) => x > rod.x - r && x < rod.x + rod.width + r && y < rod.y + rod.height + r,
      ),
  };
}
