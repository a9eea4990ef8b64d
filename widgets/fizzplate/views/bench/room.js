// Two switches for the room: a dark ground, and letters for the back row. They belong to the page.

const SWITCHES = [
  { label: "Dim room", property: "fpRoom", value: "dim" },
  { label: "Projector size", property: "fpSize", value: "projector" },
];

export function mountRoom(node, changed) {
  const page = document.documentElement.dataset;
  if (matchMedia("(prefers-color-scheme: dark)").matches) page.fpRoom = "dim";
  const dismiss = new AbortController();
  for (const { label, property, value } of SWITCHES) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "fp-button";
    button.setAttribute("role", "switch");
    button.textContent = label;
    const show = () => button.setAttribute("aria-checked", String(page[property] === value));
    button.addEventListener(
      "click",
      () => {
        if (page[property] === value) delete page[property];
        else page[property] = value;
        show();
        changed();
      },
      { signal: dismiss.signal },
    );
    show();
    node.append(button);
  }
  return {
    destroy() {
      dismiss.abort();
      for (const { property } of SWITCHES) delete page[property];
    },
  };
}
