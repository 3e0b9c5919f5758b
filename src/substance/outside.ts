/**
 * Thrown by a formula that is asked for a value outside its data. Whoever faces people checks first and says it in a
 * sentence; inside the model it is a bug, or a bath that has left the data.
 */
export class OutsideData extends RangeError {
  constructor(
    readonly quantity: string,
    readonly value: number,
    readonly low: number,
    readonly high: number,
    readonly unit: string,
  ) {
    super(`${quantity} of ${value} ${unit} is outside ${low}–${high} ${unit}`);
    this.name = 'OutsideData';
  }
}
