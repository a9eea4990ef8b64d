// The look's colours, read from the page's custom properties.

const DEFAULT_COLOURS = {
  "--fp-paper": "#fbf8f0",
  "--fp-ink": "#1c1a16",
  "--fp-quiet": "#5e5a50",
  "--fp-line": "#ddd7c8",
  "--fp-accent": "#0c5a68",
  "--fp-panel": "#fffdf8",
  "--fp-copper": "#b8612a",
  "--fp-graphite": "#3a3732",
  "--fp-on-graphite": "#fdfaf2",
  "--fp-platinum": "#c9ccd0",
  "--fp-silver": "#b4b8bd",
  "--fp-nickel": "#a39f8d",
  "--fp-zinc": "#8b9299",
  "--fp-iron": "#66625e",
  "--fp-film": "#33261f",
  "--fp-glow": "#f5d547",
  "--fp-liquid": "#e3eef2",
  "--fp-bubble": "#fefdfc",
  "--fp-ion-h": "#f6f3ec",
  "--fp-ion-oh": "#e8b2d1",
  "--fp-ion-na": "#f7d48a",
  "--fp-ion-k": "#f3e27a",
  "--fp-ion-cu": "#9bcdf5",
  "--fp-ion-cl": "#8dd2b7",
  "--fp-ion-so4": "#f1eaa6",
  "--fp-ion-hso4": "#e3d68a",
  "--fp-ion-no3": "#b4c6ee",
  "--fp-ion-cl2": "#cfe27f",
  "--fp-ion-other": "#d6d0c2",
  "--fp-ion-ink": "#1c1a17",
  "--fp-haze-white": "#f7f7f4",
};

const DEFAULT_LETTERS_PX = 16;
const USUAL_WIDTH_PX = 1270; // words of a wider picture are larger already, as its rods are

/** How much larger words are than the picture's width makes them. @param {number} fontPx of the page there @param {number} width */
export const lettersOf = (fontPx, width) => Math.max(1, (fontPx / DEFAULT_LETTERS_PX) * Math.min(1, USUAL_WIDTH_PX / width) || 1);

/**
 * letters: how much larger words are than on a desk, as the page's own are round the picture
 * @typedef {{colour: (property: string) => string, font: string, letters: number}} Theme
 */

/** @param {HTMLCanvasElement} canvas @returns {Theme} */
export function readTheme(canvas) {
  const style = getComputedStyle(canvas);
  /** @type {Map<string, string>} */
  const known = new Map(Object.entries(DEFAULT_COLOURS));
  for (const property of known.keys()) {
    const value = style.getPropertyValue(property).trim();
    if (value) known.set(property, value);
  }
  return {
    colour: (property) => {
      const value = known.get(property) ?? style.getPropertyValue(property).trim();
      return value || DEFAULT_COLOURS["--fp-ion-other"];
    },
    font: style.fontFamily || "sans-serif",
    letters: lettersOf(parseFloat(style.fontSize), canvas.clientWidth),
  };
}

/** @param {string} material */
export function materialColour(material) {
  return `--fp-${material}`;
}
