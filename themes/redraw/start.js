// Starting everything.

findSureness();
findCharts();
const following = (paint) => () => {
  ({ result, gone } = hand);
  paint();
};
hand.redrawn([
  ...(sureList ? [[sureList, following(paintSureness)]] : []),
  ...grids.map((g) => [g.figure, following(() => paintGrid(g))]),
  ...charts.map((c) => [c.figure, following(() => paintChart(c))]),
]);
