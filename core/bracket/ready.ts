import type { EndName, JobBracket, Strut } from '../job';
import { studFor } from './first';
import { clearanceHolesMm, hardwareOf, threadNames } from './tables';

/** To the next whole millimetre up. */
const whole = (mm: number): number => Math.ceil(mm - 1e-9);

/**
 * A plate with a ball stud square on its middle and four holes, as they are sold: sizes follow from the stud's thread by a rule of our own, so
 * that one bought is measured and typed over it. Screws one size under the stud, two of their holes from every edge; the joint's socket and a
 * spanner go between them. Lengths mm.
 */
export function readyPlate(strut: Strut, end: EndName, id: string, name: string): JobBracket {
  const stud = studFor(strut, end);
  const d = Number(stud.slice(1));
  const fixing = threadNames[Math.max(0, threadNames.indexOf(stud) - 1)]!;
  const hole = clearanceHolesMm[fixing].medium;
  const { jointHeadDiameterMm, acrossCornersMm } = hardwareOf(stud);
  const { acrossCornersMm: head } = hardwareOf(fixing);
  const edge = whole(2 * hole);
  const wide = whole(Math.max(jointHeadDiameterMm, acrossCornersMm) + head + 4);
  const across = whole(wide * 0.6);
  return {
    ...{ id, name, kind: 'wedge-plate', strut: strut.id, end, bought: true },
    thicknessMm: Math.max(4, whole(0.6 * d)),
    baseLegMm: wide + 2 * edge,
    baseWidthMm: across + 2 * edge,
    baseCornerRadiusMm: 3,
    topCornerRadiusMm: 3,
    baseHole: { diameterMm: hole, spacingMm: across, fromEndMm: edge, across: 2, rows: 2, rowSpacingMm: wide },
    studHole: { diameterMm: clearanceHolesMm[stud].fine, fromEndMm: (wide + 2 * edge) / 2 },
    ballOffsetMm: whole(1.5 * d + 1),
    wedge: { tiltDeg: 0 },
    stud: { thread: stud },
    attach: { by: 'bolts', thread: fixing },
    material: { name: 'Steel S235JR', densityKgM3: 7850 },
  };
}
