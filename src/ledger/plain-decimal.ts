/** A finite number without an exponent, as a ledger wants it: 1e-7 is "0.0000001". */
export function plainDecimal(value: number): string {
  const short = String(value);
  const m = /^(-?)(\d)(?:\.(\d+))?e([+-]\d+)$/.exec(short);
  if (m === null) {
    return short;
  }
  const digits = m[2]! + (m[3] ?? '');
  const point = 1 + Number(m[4]);
  const whole = point > 0 ? digits.slice(0, point).padEnd(point, '0') : '0';
  const rest = point > 0 ? digits.slice(point) : '0'.repeat(-point) + digits;
  return m[1] + whole + (rest === '' ? '' : `.${rest}`);
}
