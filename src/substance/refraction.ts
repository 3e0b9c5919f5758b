const N = [[0.3999, 1.3638], [0.4936, 1.3679], [0.6052, 1.3718], [0.6924, 1.3742], [0.87, 1.377], [1, 1.3772]] as const;
export function solventIndex(w: number, tempC: number): number {
  let i = 1;
  while (i < N.length - 1 && w > N[i]![0]) i += 1;
  const [w0, n0] = N[i - 1]!;
  const [w1, n1] = N[i]!;
  return n0 + ((n1 - n0) * (w - w0)) / (w1 - w0) - (3.2e-4 + 2e-4 * (w - 0.4)) * (tempC - 20);
}
export function resinIndex(index20: number, tempC: number): number {
  return index20 - 4e-4 * (tempC - 20);
}
export function mixedIndex(parts: { volumeShare: number; index: number }[]): number {
  const ll = parts.reduce((s, p) => s + (p.volumeShare * (p.index ** 2 - 1)) / (p.index ** 2 + 2), 0);
  return Math.sqrt((1 + 2 * ll) / (1 - ll));
}
