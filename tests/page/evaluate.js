/**
 * Evaluates many states in any JavaScript engine, for comparison with the solver. In node (tests/page/engines.py) and in
 * a browser alike: `evaluate(await import(urlOfInterpolate), table, points, "state")`.
 *
 * `points` are rows of {pressure or stroke, lining, temperature, setting}; the answer is an array for each output, by its
 * dotted name, null for what is not a number.
 */

/** All numbers of a state, as [name, value]; typed arrays give one entry for each place. */
function* figures(thing, prefix = "") {
  for (const [key, value] of Object.entries(thing)) {
    if (typeof value === "number") yield [prefix + key, value];
    else yield* figures(value, `${prefix}${key}.`);
  }
}

export function evaluate({open}, table, points, method) {
  const model = open(table);
  const into = model.blank();
  const columns = Object.fromEntries([...figures(into)].map(([name]) => [name, []]));
  for (const point of points) {
    for (const [name, value] of figures(model[method](point, into))) columns[name].push(value);
  }
  return columns;
}

/** Call one of the model's helpers at each point. */
export function call({open}, table, points, method) {
  const model = open(table);
  return points.map((point) => model[method](point));
}

/** Microseconds a state takes, once for each of several runs through all points, into one object as the page does. */
export function times({open}, table, points, method) {
  const model = open(table);
  const into = model.blank();
  return Array.from({length: 20}, () => {
    const start = performance.now();
    for (const point of points) model[method](point, into);
    return (1000 * (performance.now() - start)) / points.length;
  });
}
