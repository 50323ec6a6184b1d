/**
 * Solves (JᵀJ + damping·I)·t = −Jᵀr by Cholesky's factors, in place of a QR of the damped J: several times faster where there
 * are many columns. Squaring the condition costs digits of the step, not of the minimum, whose gradient is taken from J itself.
 */
export class NormalSteps {
  private normal = new Float64Array(0);
  private lower = new Float64Array(0);
  private gradient = new Float64Array(0);
  private columns = 0;

  /** Sets up the normal matrix from columns `from` … `width` − 1 of the row-major j. */
  load(j: Float64Array, r: Float64Array, width: number, from: number): void {
    const k = width - from;
    this.columns = k;
    if (this.normal.length < k * k) {
      this.normal = new Float64Array(k * k);
      this.lower = new Float64Array(k * k);
      this.gradient = new Float64Array(k);
    }
    const { normal, gradient } = this;
    normal.fill(0);
    gradient.fill(0);
    const touched = new Int32Array(k);
    for (let i = 0; i < r.length; i++) {
      // a reading sees few variables: most of its row is 0
      let some = 0;
      for (let c = 0; c < k; c++) if (j[i * width + from + c] !== 0) touched[some++] = c;
      for (let p = 0; p < some; p++) {
        const a = touched[p]!;
        const va = j[i * width + from + a]!;
        gradient[a] = gradient[a]! + va * r[i]!;
        for (let q = 0; q <= p; q++) {
          const at = a * k + touched[q]!;
          normal[at] = normal[at]! + va * j[i * width + from + touched[q]!]!;
        }
      }
    }
  }

  /** Writes the step to t from `at`; false where the damped matrix is not positive to working precision. */
  step(damping: number, t: Float64Array, at: number): boolean {
    const { normal, lower, gradient, columns: k } = this;
    for (let i = 0; i < k; i++) {
      let first = 0;
      while (first < i && normal[i * k + first] === 0) first++;
      for (let c = 0; c < first; c++) lower[i * k + c] = 0;
      for (let c = first; c <= i; c++) {
        let sum = normal[i * k + c]! + (c === i ? damping : 0);
        for (let p = first; p < c; p++) sum -= lower[i * k + p]! * lower[c * k + p]!;
        if (c < i) lower[i * k + c] = sum / lower[c * k + c]!;
        else if (sum > 1e-14 * (normal[i * k + i]! + damping)) lower[i * k + i] = Math.sqrt(sum);
        else return false;
      }
    }
    for (let i = 0; i < k; i++) {
      let sum = -gradient[i]!;
      for (let p = 0; p < i; p++) sum -= lower[i * k + p]! * t[at + p]!;
      t[at + i] = sum / lower[i * k + i]!;
    }
    for (let i = k - 1; i >= 0; i--) {
      const v = (t[at + i] = t[at + i]! / lower[i * k + i]!);
      for (let p = 0; p < i; p++) t[at + p] = t[at + p]! - lower[i * k + p]! * v;
    }
    return true;
  }
}
