// Tables as text: written as CSV that no spreadsheet takes for a formula, and read as spreadsheets copy and save them.

/** A text as a cell of CSV: quoted, and never read as a formula. @param {string} text */
export function csvCell(text) {
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** @param {string[][]} rows */
export const csvText = (rows) => rows.map((line) => line.map(csvCell).join(",")).join("\r\n");

/** Cells of one line: what stands between quotes is one cell, with its delimiters. @param {string} line @param {string} delimiter */
function cellsOf(line, delimiter) {
  const cells = [""];
  let quoted = false;
  for (let k = 0; k < line.length; k++) {
    const sign = line[k];
    if (quoted && sign === '"' && line[k + 1] === '"') cells[cells.length - 1] += line[++k];
    else if (sign === '"' && (quoted || !cells[cells.length - 1].trim())) quoted = !quoted;
    else if (sign === delimiter && !quoted) cells.push("");
    else cells[cells.length - 1] += sign;
  }
  return cells.map((cell) => cell.trim().replace(/^'(?=[=+\-@])/, "")); // as it was before it was made safe
}

/** Rows of cells: tabs first, as a spreadsheet copies. @param {string} text */
export function rowsOf(text) {
  const lines = text.replace(/^\ufeff/, "").replace(/\r\n?/g, "\n").split("\n").filter((line) => line.trim());
  const bare = lines.map((line) => line.replace(/"[^"]*"/g, ""));
  const delimiter = ["\t", ";", "|", ","].find((each) => bare.every((line) => line.includes(each))) ?? "\t";
  return lines.map((line) => cellsOf(line, delimiter));
}
