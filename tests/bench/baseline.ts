// The travel table once more as one writes it first: mathjs vectors and matrices, every angle and point on its own.
import { acos, add, cross, dot, multiply, norm, rotationMatrix, subtract } from 'mathjs';
import type { ResolvedJob } from '../../core/job';

type V = number[];
const plus = (a: V, b: V): V => add(a, b) as V;
const minus = (a: V, b: V): V => subtract(a, b) as V;
const times = (a: V, k: number): V => multiply(a, k) as V;
const by = (a: V, b: V): V => cross(a, b) as V;
const on = (a: V, b: V): number => dot(a, b);
const long = (a: V): number => norm(a) as number;
const unit = (a: V): V => times(a, 1 / long(a));
const DEG = Math.PI / 180;

export interface BaselineRow {
  readonly weightMomentNm: number;
  readonly handOpeningN: number;
  readonly handClosingN: number;
  readonly hingeAN: V;
  readonly hingeBN: V;
  readonly hingeAxialN: number;
  readonly struts: readonly {
    readonly lengthMm: number;
    readonly leverArmMm: number;
    readonly balanceForceN: number;
    readonly extendingN: number;
    readonly compressingN: number;
    readonly baseJointDeg: number;
    readonly lidJointDeg: number;
  }[];
}

function stemOf(end: ResolvedJob['struts'][number]['ends']['base']): V {
  if (end.stem) return unit([...end.stem]);
  const m = unit([...end.mount!.normal]);
  const reference = [...end.mount!.reference];
  const e = unit(minus(reference, times(m, on(reference, m))));
  const [az, tilt] = [(end.azimuthDeg ?? 0) * DEG, (end.tiltDeg ?? 0) * DEG];
  const flat = plus(times(e, Math.cos(az)), times(by(m, e), Math.sin(az)));
  return plus(times(flat, Math.cos(tilt)), times(m, Math.sin(tilt)));
}

/** The rows of one load case; quantity 1 struts only, inside their stroke. */
export function baselineTable(job: ResolvedJob, caseIndex: number, angleDeg: ArrayLike<number>): BaselineRow[] {
  const at = new Map(job.points.map((p) => [p.id, [...p.at]]));
  const a = at.get(job.hinge.a)!;
  const span = minus(at.get(job.hinge.b)!, a);
  const along = unit(span);
  let first: V = [0, 0, 0];
  for (const m of job.masses) first = plus(first, times(minus(at.get(m.at)!, a), m.kg));
  const opening = times(along, by(along, first)[2]! > 0 === (job.hinge.opens === 'up') ? 1 : -1);
  const load = job.loadCases[caseIndex]!;
  const level = multiply(
    rotationMatrix(load.pitchDeg * DEG, [0, 1, 0]) as unknown as V[],
    rotationMatrix(load.rollDeg * DEG, [1, 0, 0]) as unknown as V[],
  );
  const gravity = multiply([0, 0, -9.80665], level) as unknown as V;
  const rows: BaselineRow[] = [];
  for (let i = 0; i < angleDeg.length; i++) {
    const turn = rotationMatrix(angleDeg[i]! * DEG, opening) as unknown as V[];
    const arm = (id: string): V => multiply(turn, minus(at.get(id)!, a)) as unknown as V;
    let force: V = [0, 0, 0];
    let moment: V = [0, 0, 0];
    for (const m of job.masses) {
      if (load.off.includes(m.id)) continue;
      const w = times(gravity, m.kg);
      force = plus(force, w);
      moment = plus(moment, by(arm(m.at), w));
    }
    const weight = on(opening, moment);
    let open = weight - 1000 * job.hinge.frictionNm;
    let close = weight + 1000 * job.hinge.frictionNm;
    const struts = job.struts.map((s) => {
      const lid = arm(s.lid);
      const d = minus(lid, minus(at.get(s.base)!, a));
      const lengthMm = long(d);
      const u = times(d, 1 / lengthMm);
      const h = on(opening, by(lid, u));
      const { forceN, frictionN, ratio, rodMm, strokeMm, toleranceN, extendedMm } = s.spec;
      const area = (Math.PI * rodMm * rodMm) / 4;
      const absolute = (f: number): number => (f + frictionN / 2) / area + 0.101325;
      const q = absolute(ratio * forceN) / absolute(forceN);
      const c = (q - 1) / (q * (strokeMm - 5) - 5);
      const shift = load.force === 'low' ? toleranceN[0] : load.force === 'high' ? toleranceN[1] : 0;
      const pressure =
        (absolute(forceN + shift) * ((load.tempC + 273.15) / 293.15) * (1 - 5 * c)) / (1 - c * (extendedMm - lengthMm));
      const gas = (pressure - 0.101325) * area;
      const [out, inn] = [gas - frictionN / 2, gas + frictionN / 2];
      open += (h >= 0 ? out : inn) * h;
      close += (h >= 0 ? inn : out) * h;
      const push = times(u, h >= 0 ? out : inn);
      force = plus(force, push);
      moment = plus(moment, by(lid, push));
      const lidStem = multiply(turn, stemOf(s.ends.lid)) as unknown as V;
      return {
        lengthMm,
        leverArmMm: h,
        balanceForceN: -weight / h,
        extendingN: out,
        compressingN: inn,
        baseJointDeg: (acos(on(stemOf(s.ends.base), u)) as number) / DEG,
        lidJointDeg: (acos(on(lidStem, u)) as number) / DEG,
      };
    });
    const grip = arm(job.grip);
    const r = long(minus(grip, times(opening, on(grip, opening))));
    const hand = times(by(opening, grip), -open / r / r);
    force = plus(force, hand);
    moment = plus(moment, by(grip, hand));
    const axial = on(force, along);
    const hingeBN = times(by(along, moment), 1 / long(span));
    rows.push({
      weightMomentNm: weight / 1000,
      handOpeningN: -open / r,
      handClosingN: -close / r,
      hingeAN: minus(times(minus(force, times(along, axial)), -1), hingeBN),
      hingeBN,
      hingeAxialN: -axial,
      struts,
    });
  }
  return rows;
}
