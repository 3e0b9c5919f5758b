/** An estimate: its best value and, where it is not known for sure, the 5 and 95 % points. */
export interface Quantity {
  p05?: number;
  p50: number;
  p95?: number;
}

/** A quantity without a band. */
export function best(value: number): Quantity {
  return { p50: value };
}
