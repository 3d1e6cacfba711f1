/** The first few of many by an order, without keeping the others; and how many there were. */
export class Foremost<Row> {
  readonly #first: Row[] = [];
  #count = 0;

  constructor(
    private readonly most: number,
    private readonly order: (one: Row, other: Row) => number,
  ) {}

  /** In order; of equals whatever came first. */
  get first(): readonly Row[] {
    return this.#first;
  }

  /** Those that were added beyond the first. */
  get more(): number {
    return this.#count - this.#first.length;
  }

  add(row: Row): void {
    this.#count += 1;
    const rows = this.#first;
    if (rows.length === this.most && this.order(row, rows[rows.length - 1]!) >= 0) return;
    let at = rows.length;
    while (at > 0 && this.order(row, rows[at - 1]!) < 0) at -= 1;
    rows.splice(at, 0, row);
    if (rows.length > this.most) rows.pop();
  }
}
