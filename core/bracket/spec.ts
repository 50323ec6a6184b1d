import type { Bracket } from '../job';
import type { BracketSpec } from './kinds';
import { fixingHoles } from './pattern';
import { threadThrough } from './tables';

/** Kinds that are bent: they have an upright and an inside radius. */
export const isBent = ({ kind }: Pick<BracketSpec, 'kind'>): boolean =>
  kind === 'bent-angle' || kind === 'gusset-angle' || kind === 'channel';

/** Throat of the gusset's fillet welds where the job gives none, mm: 0.7 of the thinner part, common practice. */
const gussetThroatMm = (a: number, b: number): number => Math.round(7 * Math.min(a, b)) / 10;

/** A job's bracket with every default in place and its pattern laid out. Checks nothing: see `checkBracket`. */
export function bracketSpecOf(bracket: Bracket): BracketSpec {
  const { kind, studHole, gusset, wedge } = bracket;
  const bent = isBent(bracket);
  const channel = kind === 'channel';
  const topWidthMm = bracket.topWidthMm ?? bracket.baseWidthMm;
  const gapMm = channel ? (bracket.gapMm ?? 0) : 0;
  const fixings = fixingHoles(bracket);
  const smallest = fixings.length > 0 ? Math.min(...fixings.map((f) => f.diameterMm)) : 0;
  return {
    id: bracket.id,
    name: bracket.name ?? bracket.id,
    kind,
    thicknessMm: bracket.thicknessMm,
    insideRadiusMm: bent ? (bracket.insideRadiusMm ?? 0) : 0,
    baseLegMm: channel ? gapMm + 2 * bracket.thicknessMm : bracket.baseLegMm,
    uprightLegMm: bent ? (bracket.uprightLegMm ?? 0) : 0,
    baseWidthMm: bracket.baseWidthMm,
    topWidthMm,
    baseCornerRadiusMm: bracket.baseCornerRadiusMm,
    topCornerRadiusMm: bracket.topCornerRadiusMm ?? 0,
    fixings,
    patterned: !bracket.fixings && bracket.baseHole !== undefined,
    attachedBy: bracket.attach?.by ?? 'bolts',
    into: bracket.attach?.into ?? 'through',
    fixingThread: bracket.attach?.thread ?? threadThrough(smallest) ?? null,
    studThread: bracket.stud?.thread ?? threadThrough(studHole.diameterMm) ?? null,
    studHole: {
      diameterMm: studHole.diameterMm,
      heightMm: bent ? (studHole.heightMm ?? 0) : 0,
      fromEndMm: bent ? 0 : (studHole.fromEndMm ?? 0),
      acrossMm: studHole.acrossMm ?? 0,
    },
    ballOffsetMm: channel ? gapMm / 2 : bracket.ballOffsetMm,
    ballSide: channel ? 'inside' : (bracket.ballSide ?? 'outside'),
    gapMm,
    gusset:
      kind === 'gusset-angle' && gusset
        ? {
            thicknessMm: gusset.thicknessMm,
            alongMm: gusset.alongMm,
            upMm: gusset.upMm,
            count: gusset.count,
            acrossMm:
              gusset.count === 1
                ? 0
                : (gusset.acrossMm ?? (Math.min(bracket.baseWidthMm, topWidthMm) - gusset.thicknessMm) / 2),
            weldThroatMm: gusset.weldThroatMm ?? gussetThroatMm(gusset.thicknessMm, bracket.thicknessMm),
          }
        : null,
    wedge: kind === 'wedge-plate' && wedge ? { tiltDeg: wedge.tiltDeg, directionDeg: wedge.directionDeg ?? 0 } : null,
    material: { name: bracket.material.name, densityKgM3: bracket.material.densityKgM3 },
  };
}
