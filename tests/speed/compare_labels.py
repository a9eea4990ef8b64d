"""Measure the labels in the picture: how high their letters are, and how much of them is covered.

    python tests/speed/compare_labels.py [frames] [--vessels beaker,...] [--widths 1920,...] [--server ADDRESS]

For each vessel and width of the page a run of copper(II) sulfate is shown at so many times. What is printed are
the width of the picture, the type of the largest label and its cap height in CSS pixels, the angle of
that height (page 2 m wide, seen from 8 m) against the eye's limit of 5 minutes of arc, and the share of the labels' area that
something drawn later covers: its median, and what 95 % of the frames stay below.
"""

from __future__ import annotations

import argparse
import math
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "serving"))

from chromium import chromium
from servers import page_at

#: height of the window by its width; a phone is held upright
WINDOWS = {1024: 768, 1366: 768, 1920: 1080, 3840: 2160, 360: 740}
VESSELS = {
    "beaker": "",
    "U-tube": ",in=U-tube,lamp=none",
    "dish": ",in=dish,lamp=none",
    "paper strip": ",in=paper strip,lamp=none",
}
PICTURE_M, AWAY_M = 2.0, 8.0
LIMIT_ARCMIN = 5.0  # of a person who sees well
# Labels are written on small canvases, which the picture copies. Each remembers where its letters stand; each
# frame of the picture remembers what was copied or filled after what.
WATCH = """
(() => {
  const pens = CanvasRenderingContext2D.prototype;
  const { fillText, drawImage, clearRect, arc, beginPath, fill } = pens;
  const labels = new WeakMap(); // canvas: box of its letters and their type, in its dots
  const shapes = new WeakMap(); // canvas: opacity of each dot
  const frames = new WeakMap();
  const path = new WeakMap();
  Object.assign(pens, {
    clearRect(...box) { frames.set(this.canvas, []); return clearRect.apply(this, box); },
    fillText(text, x, y, ...rest) {
      if (!this.canvas.isConnected && text) {
        const { a, e, f } = this.getTransform();
        const { actualBoundingBoxLeft: left, actualBoundingBoxRight: right, actualBoundingBoxAscent: up } = this.measureText(text);
        const type = a * parseFloat(this.font.match(/([\\d.]+)px/)[1]);
        const cap = a * this.measureText('H').actualBoundingBoxAscent;
        const known = labels.get(this.canvas) ?? { left: Infinity, right: -Infinity, top: Infinity, bottom: -Infinity, type: 0, cap: 0 };
        labels.set(this.canvas, {
          left: Math.min(known.left, e + a * (x - left)), right: Math.max(known.right, e + a * (x + right)),
          top: Math.min(known.top, f + a * (y - up)), bottom: Math.max(known.bottom, f + a * y),
          type: Math.max(known.type, type), cap: Math.max(known.cap, cap),
        });
      }
      return fillText.call(this, text, x, y, ...rest);
    },
    drawImage(picture, x, y, width, height, ...rest) {
      const alpha = this.globalAlpha;
      if (this.canvas.isConnected && alpha >= 0.5) frames.get(this.canvas)?.push({ picture, x, y, width });
      else if (labels.has(picture) && !this.canvas.isConnected) labels.set(this.canvas, labels.get(picture));
      return drawImage.call(this, picture, x, y, ...(width === undefined ? [] : [width, height]), ...rest);
    },
    beginPath() { path.set(this, []); return beginPath.call(this); },
    arc(x, y, r, ...rest) { path.get(this)?.push({ x, y, r }); return arc.call(this, x, y, r, ...rest); },
    fill(...rest) {
      if (this.canvas.isConnected && this.globalAlpha >= 0.5) frames.get(this.canvas)?.push(...(path.get(this) ?? []));
      return fill.apply(this, rest);
    },
  });
  const opacityOf = (picture) => {
    if (!shapes.has(picture)) shapes.set(picture, picture.getContext('2d').getImageData(0, 0, picture.width, picture.height).data);
    return shapes.get(picture);
  };
  const covers = (thing, x, y) => {
    if (thing.r !== undefined) return (x - thing.x) ** 2 + (y - thing.y) ** 2 < thing.r ** 2;
    const scale = thing.picture.width / thing.width;
    const [column, row] = [Math.floor((x - thing.x) * scale), Math.floor((y - thing.y) * scale)];
    if (column < 0 || row < 0 || column >= thing.picture.width || row >= thing.picture.height) return false;
    return opacityOf(thing.picture)[4 * (row * thing.picture.width + column) + 3] > 100;
  };
  window.labelsDrawn = (canvas) => {
    const all = frames.get(canvas) ?? [];
    let [area, covered, type, cap, number] = [0, 0, 0, 0, 0];
    all.forEach((thing, k) => {
      const label = thing.picture && labels.get(thing.picture);
      if (!label) return;
      number += 1;
      const scale = thing.width / thing.picture.width;
      const [left, right, top, bottom] = [[label.left, thing.x], [label.right, thing.x], [label.top, thing.y], [label.bottom, thing.y]].map(([at, from]) => from + at * scale);
      [type, cap] = [Math.max(type, label.type * scale), Math.max(cap, label.cap * scale)];
      // the same ion drawn more plainly over its pale look covers nothing
      const later = all.slice(k + 1).filter((each) => each.x !== thing.x || each.y !== thing.y);
      for (let i = 0; i < 8; i += 1) for (let j = 0; j < 4; j += 1) {
        const [x, y] = [left + ((i + 0.5) / 8) * (right - left), top + ((j + 0.5) / 4) * (bottom - top)];
        const weight = (right - left) * (bottom - top) / 32;
        area += weight;
        if (later.some((each) => covers(each, x, y))) covered += weight;
      }
    });
    return { number, type, cap, share: area ? covered / area : 0, width: canvas.clientWidth };
  };
})();
"""
AT = """timeS => {
  const ruler = document.querySelector('.fp-scrubber');
  ruler.value = timeS;
  ruler.dispatchEvent(new Event('input'));
  return labelsDrawn(document.querySelector('.fp-scene canvas'));
}"""
RUN_S = 300


def arc_minutes(height_px, page_px):
    """Return the angle of a height on a page that is so many pixels wide.

    Examples
    --------
    >>> round(arc_minutes(22, 1920), 1)
    9.8
    """
    return math.degrees(height_px / page_px * PICTURE_M / AWAY_M) * 60


def tell(vessel, width, seen):
    """Print a line of what was seen in the frames at one width."""
    first = seen[0]
    share = np.array([each["share"] for each in seen])
    angle = arc_minutes(first["cap"], width)
    afar = f", {angle:.1f} minutes of arc, ratio {angle / LIMIT_ARCMIN:.2f}" if width > 700 else ""
    print(
        f"{vessel}, page {width} px: picture {first['width']} px, {first['number']} labels, type {first['type']:.1f} px, "
        f"cap height {first['cap']:.1f} px{afar}; covered {100 * np.median(share):.1f} %, "
        f"95 % of frames within {100 * np.percentile(share, 95):.1f} %"
    )


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("frames", nargs="?", type=int, default=60)
    chosen.add_argument("--vessels", default=",".join(VESSELS))
    chosen.add_argument("--widths", default=",".join(map(str, WINDOWS)))
    chosen.add_argument("--solution", default="CuSO4")
    chosen.add_argument("--server", help="one that runs already")
    options = chosen.parse_args()
    times_s = np.linspace(RUN_S / 20, RUN_S, options.frames)
    with page_at(options.server, "demonstrate") as address, chromium() as browser:
        for vessel in options.vessels.split(","):
            page = browser.new_page(
                viewport={"width": 1920, "height": 1080}, reduced_motion="reduce"
            )
            page.add_init_script(WATCH)
            page.goto(
                f"{address}?cells={options.solution}{VESSELS[vessel].replace(' ', '%20')}&ask=off"
            )
            page.get_by_role("button", name="Switch on").click(timeout=60_000)
            page.get_by_role("button", name="Switch off").wait_for()
            for width in map(int, options.widths.split(",")):
                page.set_viewport_size({"width": width, "height": WINDOWS[width]})
                page.wait_for_timeout(300)
                tell(vessel, width, [page.evaluate(AT, float(each)) for each in times_s])
            page.close()


if __name__ == "__main__":
    main()
