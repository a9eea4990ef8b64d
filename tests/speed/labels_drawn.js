// Labels are written on small canvases, which the picture copies. Each remembers where its letters stand; each frame
// of the picture remembers what was copied or filled after what. labelsDrawn(canvas) measures the last frame.
(() => {
  const pens = CanvasRenderingContext2D.prototype;
  const { fillText, drawImage, clearRect, arc, roundRect, beginPath, fill } = pens;
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
        const type = a * parseFloat(this.font.match(/([\d.]+)px/)[1]);
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
    roundRect(x, y, width, height, ...rest) {
      path.get(this)?.push({ x, y, width, height });
      return roundRect.call(this, x, y, width, height, ...rest);
    },
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
    if (!thing.picture) return x > thing.x && x < thing.x + thing.width && y > thing.y && y < thing.y + thing.height;
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
