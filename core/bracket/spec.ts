import type { Bracket } from '../job';
import { isBent } from './body';
import { KINDS } from './kinds';
import { fixingHoles } from './pattern';
import { threadThrough } from './tables';
import type { BracketSpec } from './types';

/** A job's bracket with every default in place and its pattern laid out. Checks nothing: see `checkBracket`. */
export function bracketSpecOf(bracket: Bracket): BracketSpec {
  const { studHole } = bracket;
  const bent = isBent(bracket);
  const fixings = fixingHoles(bracket);
  const smallest = fixings.length > 0 ? Math.min(...fixings.map((f) => f.diameterMm)) : 0;
  const spec: BracketSpec = {
    id: bracket.id,
    name: bracket.name ?? bracket.id,
    kind: bracket.kind,
    bought: bracket.bought ?? false,
    thicknessMm: bracket.thicknessMm,
    insideRadiusMm: bent ? (bracket.insideRadiusMm ?? 0) : 0,
    baseLegMm: bracket.baseLegMm,
    uprightLegMm: bent ? (bracket.uprightLegMm ?? 0) : 0,
    baseWidthMm: bracket.baseWidthMm,
    topWidthMm: bracket.topWidthMm ?? bracket.baseWidthMm,
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
    ballOffsetMm: bracket.ballOffsetMm,
    ballSide: bracket.ballSide ?? 'outside',
    gapMm: 0,
    gusset: null,
    wedge: null,
    material: { name: bracket.material.name, densityKgM3: bracket.material.densityKgM3 },
  };
  return { ...spec, ...KINDS[bracket.kind].settle?.(bracket, spec) };
}
