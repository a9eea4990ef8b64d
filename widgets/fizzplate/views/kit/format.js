// Numbers as a class reads them: few figures, proper minus signs, units beside them.

/** @param {number} value @param {number} [figures] */
export function significant(value, figures = 2) {
  if (!Number.isFinite(value) || Math.abs(value) < 1e-9) return "0";
  const rounded = Number(value.toPrecision(figures));
  const digits = Math.max(0, figures - 1 - Math.floor(Math.log10(Math.abs(rounded))));
  return rounded.toFixed(Math.min(digits, 6)).replace("-", "−");
}

/** @param {number} seconds */
export function clockText(seconds) {
  const whole = Math.round(seconds);
  const minutes = Math.floor(whole / 60);
  return minutes > 0 ? `${minutes} min ${whole - 60 * minutes} s` : `${whole} s`;
}

/** As a clock shows it, for a label. @param {number} seconds */
export function shortClock(seconds) {
  const whole = Math.round(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}

export const MIN_CURRENT_A = 1e-5; // less counts as no current, as in cell/warnings.py

/** @param {number} amperes */
export function currentText(amperes) {
  if (amperes < MIN_CURRENT_A) return "0 mA";
  if (amperes >= 0.9995) return `${significant(amperes, 3)} A`;
  return `${significant(amperes * 1000, 3)} mA`;
}

/** @param {number} grams */
export function massText(grams) {
  const milligrams = Math.abs(grams) * 1000;
  return milligrams >= 999.5 ? `${significant(milligrams / 1000)} g` : `${significant(milligrams)} mg`;
}

/** @param {number} moles */
export function amountText(moles) {
  return moles > 0 && moles < 1e-5 ? "less than 0.01 mmol" : `${significant(moles * 1000)} mmol`;
}

/** @param {number} cm3 */
export function volumeText(cm3) {
  return cm3 > 0 && cm3 < 0.01 ? "less than 0.01 cm³" : `${significant(cm3)} cm³`;
}

// A share next to 1 keeps the figure that tells it from the whole.
/** @param {number} fraction */
export function percentText(fraction) {
  const percent = 100 * fraction;
  if (percent > 99.95) return "100 %";
  if (percent > 99) return `${percent.toFixed(1)} %`;
  if (percent < 0.05) return "less than 0.1 %";
  return `${significant(percent)} %`;
}

/** @param {number} volts */
export const voltageText = (volts) => `${volts.toFixed(1).replace(/^-(?=0\.0$)/, "").replace("-", "−")} V`;

// Figures that were chosen to be round need no more than one.
/** @param {number} value */
const oneFigure = (value) => String(Number(value.toPrecision(1)));

/** @param {number} moles */
export function roundAmountText(moles) {
  if (moles >= 1e-3) return `${oneFigure(moles * 1e3)} mmol`;
  if (moles >= 1e-6) return `${oneFigure(moles * 1e6)} µmol`;
  return `${oneFigure(moles * 1e9)} nmol`;
}

/** @param {number} cm3 */
export const roundVolumeText = (cm3) => `${oneFigure(cm3)} cm³`;

/** @param {number} factor */
export const timesText = (factor) => `×${Math.round(factor).toLocaleString("en-GB")}`;
