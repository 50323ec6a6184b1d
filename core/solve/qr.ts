/**
 * Householder QR with column pivoting: A·P = Q·R, the diagonal of R falling in size, so that it shows the rank.
 * Works in place on column-major storage and allocates only when it has to grow. Golub & Van Loan, Matrix Computations
 * (4th ed.), algorithm 5.4.1; norms are worked out afresh when downdating has eaten half their digits (LAPACK working
 * note 176). Sources from memory.
 */
export class PivotedQr {
  rows = 0;
  columns = 0;
  /** Columns whose pivot is over tolerance × the largest pivot. */
  rank = 0;
  /** order[k] is the column of A that stands at place k. */
  order = new Int32Array(0);
  private a: Float64Array = new Float64Array(0);
  private tau = new Float64Array(0);
  private norms = new Float64Array(0);
  private norms0 = new Float64Array(0);

  /** Factors a (rows × columns, column-major), which it keeps and overwrites. */
  factor(a: Float64Array, rows: number, columns: number, tolerance: number): this {
    this.rows = rows;
    this.columns = columns;
    this.a = a;
    if (this.tau.length < columns) {
      this.tau = new Float64Array(columns);
      this.norms = new Float64Array(columns);
      this.norms0 = new Float64Array(columns);
      this.order = new Int32Array(columns);
    }
    const { tau, norms, norms0, order } = this;
    for (let j = 0; j < columns; j++) {
      order[j] = j;
      norms[j] = norms0[j] = norm2(a, j * rows, rows);
    }
    const steps = Math.min(rows, columns);
    let first = 0;
    this.rank = 0;
    for (let k = 0; k < steps; k++) {
      let best = k;
      for (let j = k + 1; j < columns; j++) if (norms[j]! > norms[best]!) best = j;
      if (best !== k) this.swap(k, best);
      const at = k * rows;
      const alpha = a[at + k]!;
      const length = norm2(a, at + k, rows - k);
      const pivot = length;
      if (k === 0) first = pivot;
      if (!(pivot > tolerance * first) || pivot === 0) {
        // what is left is noise: nothing below is turned any more
        for (let j = k; j < steps; j++) tau[j] = 0;
        return this;
      }
      this.rank = k + 1;
      const beta = alpha > 0 ? -length : length;
      const v0 = alpha - beta;
      tau[k] = -v0 / beta;
      for (let i = k + 1; i < rows; i++) a[at + i] = a[at + i]! / v0;
      a[at + k] = beta;
      for (let j = k + 1; j < columns; j++) {
        const to = j * rows;
        let sum = a[to + k]!;
        for (let i = k + 1; i < rows; i++) sum += a[at + i]! * a[to + i]!;
        sum *= tau[k]!;
        a[to + k] = a[to + k]! - sum;
        if (sum !== 0) for (let i = k + 1; i < rows; i++) a[to + i] = a[to + i]! - sum * a[at + i]!;
        if (norms[j]! > 0) {
          const t = a[to + k]! / norms[j]!;
          const left = Math.max(0, 1 - t * t);
          const ratio = norms[j]! / norms0[j]!;
          if (left * ratio * ratio < 1e-8) norms[j] = norms0[j] = norm2(a, to + k + 1, rows - k - 1);
          else norms[j] = norms[j]! * Math.sqrt(left);
        }
      }
    }
    return this;
  }

  /** b ← Qᵀ·b, in place; b has `rows` entries from `at`. */
  applyQt(b: Float64Array, at = 0): void {
    for (let k = 0; k < this.rank; k++) this.reflect(k, b, at);
  }

  /** b ← Q·b, in place. */
  applyQ(b: Float64Array, at = 0): void {
    for (let k = this.rank - 1; k >= 0; k--) this.reflect(k, b, at);
  }

  /** Solves R₁·y = b for the leading rank × rank part, in place. */
  solveR(b: Float64Array): void {
    const { a, rows } = this;
    for (let k = this.rank - 1; k >= 0; k--) {
      const y = (b[k] = b[k]! / a[k * rows + k]!);
      for (let i = 0; i < k; i++) b[i] = b[i]! - y * a[k * rows + i]!;
    }
  }

  /** Solves R₁ᵀ·y = b for the leading rank × rank part, in place. */
  solveRt(b: Float64Array): void {
    const { a, rows } = this;
    for (let k = 0; k < this.rank; k++) {
      let sum = b[k]!;
      for (let i = 0; i < k; i++) sum -= a[k * rows + i]! * b[i]!;
      b[k] = sum / a[k * rows + k]!;
    }
  }

  /** Entry of R; 0 below its diagonal. */
  r(row: number, place: number): number {
    return row <= place ? this.a[place * this.rows + row]! : 0;
  }

  private swap(k: number, j: number): void {
    const { a, rows, norms, norms0, order } = this;
    for (let i = 0; i < rows; i++) {
      const keep = a[k * rows + i]!;
      a[k * rows + i] = a[j * rows + i]!;
      a[j * rows + i] = keep;
    }
    norms[j] = norms[k]!;
    norms0[j] = norms0[k]!;
    const keep = order[k]!;
    order[k] = order[j]!;
    order[j] = keep;
  }

  private reflect(k: number, b: Float64Array, at: number): void {
    const { a, rows } = this;
    let sum = b[at + k]!;
    const v = k * rows;
    for (let i = k + 1; i < rows; i++) sum += a[v + i]! * b[at + i]!;
    sum *= this.tau[k]!;
    if (sum === 0) return;
    b[at + k] = b[at + k]! - sum;
    for (let i = k + 1; i < rows; i++) b[at + i] = b[at + i]! - sum * a[v + i]!;
  }
}

/** Euclidean length of a stretch, safe against overflow and underflow. */
export function norm2(a: Float64Array, at: number, length: number): number {
  let sum = 0;
  let big = 0;
  for (let i = at; i < at + length; i++) {
    const v = Math.abs(a[i]!);
    if (v > big) big = v;
    sum += v * v;
  }
  if (sum > 1e-280 && sum < 1e280) return Math.sqrt(sum);
  if (big === 0 || !Number.isFinite(big)) return big;
  sum = 0;
  for (let i = at; i < at + length; i++) sum += (a[i]! / big) ** 2;
  return big * Math.sqrt(sum);
}
