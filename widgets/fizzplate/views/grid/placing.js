// Puts loaded or pasted cells into the rows of the class's table.

import { headingOf, isNumber } from "./headings.js";

export const LONGEST_CELL = 40;

/** Put cells into rows from a row and a column on. */
export function placeCells(rows, { columns, groups }, at, from, cells) {
  cells.forEach((line, down) => {
    if (at + down >= groups) return;
    while (rows.length <= at + down) rows.push({});
    line.forEach((cell, along) => {
      const column = columns[from + along];
      if (column) rows[at + down][column.key] = cell.slice(0, LONGEST_CELL);
    });
  });
}

/** A first row that names columns: what each of its cells means. It is none if it holds a number. */
export function headOf(cells, columns) {
  const means = cells[0].map((heading) => (/^note$/i.test(heading) ? { note: true } : headingOf(heading, columns)));
  const names = cells[0].some((cell) => cell) && !cells[0].some(isNumber);
  return { means, names, known: names && means.some(({ column, named }) => column || named) };
}

/** Rows under their headings, from a row on; what is left out is returned as sentences. */
export function placeNamed(rows, groups, cells, means, at) {
  const dropped = means.flatMap(({ why }) => (why ? [why] : []));
  cells.slice(1).forEach((line, down) => {
    if (at + down >= groups) return;
    while (rows.length <= at + down) rows.push({});
    means.forEach(({ column }, k) => {
      if (column) rows[at + down][column.key] = (line[k] ?? "").slice(0, LONGEST_CELL);
    });
  });
  return dropped.length ? ` Left out: ${dropped.join("; ")}.` : "";
}
