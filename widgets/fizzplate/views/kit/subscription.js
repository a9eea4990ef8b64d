// What a widget hears from its model for as long as it is drawn.

/** @param {any} model the widget's @param {Record<string, (...details: any[]) => void>} handlers by event @returns {() => void} ends it */
export function subscribe(model, handlers) {
  const all = Object.entries(handlers);
  for (const [event, handler] of all) model.on(event, handler);
  return () => all.forEach(([event, handler]) => model.off(event, handler));
}
