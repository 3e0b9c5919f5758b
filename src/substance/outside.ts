/** Thrown by a formula that is asked for a value outside its data; callers that face people check first. */
export class OutsideData extends RangeError {
  constructor(
    readonly quantity: string,
    readonly value: number,
    readonly low: number,
    readonly high: number,
    readonly unit: string,
  ) {
    super(`${quantity} of ${value} ${unit} is outside ${low}–${high} ${unit}`);
  }
}
