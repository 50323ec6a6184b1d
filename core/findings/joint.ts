import type { EndName } from '../job';
import { bestAzimuth } from '../joint';
import { type Vec3, rotateVec, sub, toRad, unit } from '../space';
import { type Plan, type StrutPlan, turned } from '../travel';
import { type Check, type Finding, degrees, describeRuns, formatter, runsWhere, strutName } from './finding';

/** Unit strut directions base → lid over the travel, in the axes of the body that the end rides on (lid: as closed). */
export function directionsInBody(plan: Plan, strut: StrutPlan, end: EndName, angleDeg: Float64Array): Float64Array {
  const out = new Float64Array(3 * angleDeg.length);
  for (let i = 0; i < angleDeg.length; i++) {
    const angle = toRad(angleDeg[i]!);
    const u: Vec3 = unit(sub(turned(strut.lid, angle), strut.base));
    out.set(end === 'base' ? u : rotateVec(u, plan.axis.opening, -angle), 3 * i);
  }
  return out;
}

const DEG_WATCH = 2;

/** base-joint and lid-joint: the stem's angle to the strut over the whole travel. */
export const jointRange: Check = ({ job, plans, tables, units }) => {
  const f = formatter(units);
  const plan = plans[0]!;
  const table = tables[0]!;
  return plan.struts.flatMap((strut, k): Finding[] =>
    (['base', 'lid'] as const).map((end) => {
      const spec = job.struts[k]!.ends[end];
      const row = end === 'base' ? table.struts[k]!.baseJointDeg : table.struts[k]!.lidJointDeg;
      const limit = spec.rangeDeg;
      let worst = -1;
      let worstAt = 0;
      for (let i = 0; i < row.length; i++) {
        const off = Math.abs(90 - row[i]!);
        if (off > worst) [worst, worstAt] = [off, i];
      }
      const known = worst >= 0;
      const broken = worst > limit + 1e-9;
      const runs = runsWhere(row.length, (i) => Math.abs(90 - row[i]!) > limit + 1e-9);
      const name = `${strutName(job, strut.id)}, ${end} joint`;
      const at = row[worstAt]!;
      const need = at < 90 ? `${degrees(90 - limit)} or more` : `${degrees(90 + limit)} or less`;
      let advice = '';
      let proposal: Finding['proposal'];
      if (broken && spec.mount) {
        const tiltDeg = spec.tiltDeg ?? 0;
        const best = bestAzimuth(spec.mount, tiltDeg, directionsInBody(plan, strut, end, table.angleDeg));
        if (best.deviationDeg <= limit) {
          const value = Math.round(best.azimuthDeg * 10) / 10;
          advice = `Turn the mount to ${f(value, 'angle')}: then it stays within ${f(best.deviationDeg, 'angle')} of square.`;
          proposal = { label: `Turn to ${f(value, 'angle')}`, path: ['struts', k, 'ends', end, 'azimuthDeg'], value };
        } else {
          advice = `No azimuth at this tilt holds: ${f(best.azimuthDeg, 'angle')} is best and still goes ${f(best.deviationDeg, 'angle')} off square. It needs a wedge, another mount or another pivot.`;
        }
      } else if (broken) advice = 'Turn the stem, or give the end a mount so that its best azimuth can be found.';
      return {
        id: `${end}-joint`,
        case: plan.caseId,
        everyCase: true,
        subject: strut.id,
        state: !known ? 'unknown' : broken ? 'fails' : limit - worst < DEG_WATCH ? 'watch' : 'holds',
        value: known ? worst : null,
        limit,
        margin: known ? limit - worst : null,
        unit: '°',
        worstDeg: table.angleDeg[worstAt]!,
        text: !known
          ? `${name}: no angle, because both pivots are at one place.`
          : broken
            ? `${name} leaves its range ${describeRuns(runs, table.angleDeg)}: ${f(at, 'angle')}, needs ${need}.`
            : `${name} stays within ${f(worst, 'angle')} of square (range ${f(limit, 'angle')}), worst at ${degrees(table.angleDeg[worstAt]!)}.`,
        advice,
        ...(proposal ? { proposal } : {}),
      } satisfies Finding;
    }),
  );
};
