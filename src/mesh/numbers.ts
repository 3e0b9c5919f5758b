/** Numbers in a row, of which it is not known how many will come. */
export class Numbers<A extends Float64Array | Uint32Array> {
  length = 0;
  private held: A;
  private readonly kind: new (
    length: number,
  ) => A;

  constructor(kind: new (length: number) => A) {
    this.kind = kind;
    this.held = new kind(256);
  }

  push(value: number): void {
    if (this.length === this.held.length) {
      const grown = new this.kind(2 * this.length);
      grown.set(this.held);
      this.held = grown;
    }
    this.held[this.length] = value;
    this.length += 1;
  }

  at(place: number): number {
    return this.held[place]!;
  }
}
