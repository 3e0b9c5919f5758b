const H = [[0.4, 1.48], [0.5877, 1.491], [0.6891, 1.4126], [0.8855, 1.0986], [0.93, 1.04], [1, 1]] as const;
export function solventViscosity(w: number, tempC: number): number {
  let i = 1;
  while (i < H.length - 1 && w > H[i]![0]) i += 1;
  const [w0, h0] = H[i - 1]!;
  const [w1, h1] = H[i]!;
  return 2.4 * Math.exp(-0.0285 * (tempC - 20)) * (h0 + ((h1 - h0) * (w - w0)) / (w1 - w0));
}
export function resinViscosity(viscosity25: number, tempC: number): number {
  return viscosity25 * Math.exp(-0.08 * (tempC - 25));
}
