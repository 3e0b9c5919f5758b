/** Numbers of a vapour estimate: never more than two figures, since published models differ by a factor of 40. */

/** A number cut to two significant figures. */
export function rough(value: number): number {
  return Number(value.toPrecision(2));
}

/** As text: 0.063, 4.5, 120, 6900. */
export function two(value: number): string {
  return String(rough(value));
}

/** From one to another, or one number where they come to the same. */
export function span(low: number, high: number): string {
  return two(low) === two(high) ? two(low) : `${two(low)}–${two(high)}`;
}

/** An estimate with its band in brackets. */
export function bandTwo({ p05, p50, p95 }: { p05: number; p50: number; p95: number }): string {
  return two(p05) === two(p95) ? two(p50) : `${two(p50)} (${two(p05)}–${two(p95)})`;
}

/** Something typed or measured: at most one decimal below 100. */
export function given(value: number): string {
  return String(Number(value.toFixed(value < 100 ? 1 : 0)));
}
