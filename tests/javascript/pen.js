// A pen that draws nothing and remembers everything: what was called, with what, in which colours.

/** @typedef {{name: string, given: any[], fill: any, stroke: any, alpha: number}} Stroke */

/** @returns {any} a drawing context with the list of its calls */
export function rememberingPen() {
  /** @type {Stroke[]} */
  const calls = [];
  const kept = { calls, fillStyle: "", strokeStyle: "", globalAlpha: 1, lineWidth: 1 };
  return new Proxy(kept, {
    get(target, name) {
      if (name in target) return target[name];
      return (...given) => {
        calls.push({ name, given, fill: target.fillStyle, stroke: target.strokeStyle, alpha: target.globalAlpha });
        if (name === "measureText") return { width: 7 * String(given[0]).length };
        return /^create/.test(String(name)) ? { addColorStop() {} } : undefined;
      };
    },
    set: (target, name, value) => Reflect.set(target, name, value),
  });
}

/** What a pen was asked for under a name. @param {any} pen @param {string} name @returns {any[][]} */
export const asked = (pen, name) => pen.calls.filter((call) => call.name === name).map((call) => call.given);

export const plainTheme = { colour: (name) => name, letters: 1, font: "sans-serif" };
