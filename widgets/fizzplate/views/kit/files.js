// Files that a page gives to be saved.

/** @param {string} name @param {string} type @param {BlobPart} content */
export function saveFile(name, type, content) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([content], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000);
}
