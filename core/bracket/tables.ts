import { THREAD_NAMES } from '../job';

/** Name of a coarse metric thread. */
export type ThreadName = (typeof THREAD_NAMES)[number];

/** All thread names, smallest first. */
export const threadNames: readonly ThreadName[] = THREAD_NAMES;

/** Coarse pitches of ISO 261, mm, for the sizes that brackets and ball studs use. */
const COARSE_PITCH_MM: Readonly<Record<ThreadName, number>> = {
  M4: 0.7,
  M5: 0.8,
  M6: 1,
  M8: 1.25,
  M10: 1.5,
  M12: 1.75,
  M14: 2,
  M16: 2,
};

/** Basic sizes of a thread, mm and mm². */
export interface Thread {
  readonly name: ThreadName;
  readonly diameterMm: number;
  readonly pitchMm: number;
  /** d₂. */
  readonly pitchDiameterMm: number;
  /** d₃, root of the bolt. */
  readonly rootDiameterMm: number;
  /** D₁, of the nut. */
  readonly minorDiameterMm: number;
  /** A_s. */
  readonly stressAreaMm2: number;
}

/** Basic sizes of a coarse thread. Source: ISO 68-1 profile, ISO 724, stress area by ISO 898-1. */
export function coarseThread(name: ThreadName): Thread {
  const d = Number(name.slice(1));
  const p = COARSE_PITCH_MM[name];
  const h = (Math.sqrt(3) / 2) * p;
  const d2 = d - 0.75 * h;
  const d3 = d - (17 / 12) * h;
  return {
    name,
    diameterMm: d,
    pitchMm: p,
    pitchDiameterMm: d2,
    rootDiameterMm: d3,
    minorDiameterMm: d - 1.25 * h,
    stressAreaMm2: (Math.PI / 4) * ((d2 + d3) / 2) ** 2,
  };
}

/** Clearance holes by ISO 273, mm. */
export const clearanceHolesMm: Readonly<Record<ThreadName, { fine: number; medium: number; coarse: number }>> = {
  M4: { fine: 4.3, medium: 4.5, coarse: 4.8 },
  M5: { fine: 5.3, medium: 5.5, coarse: 5.8 },
  M6: { fine: 6.4, medium: 6.6, coarse: 7 },
  M8: { fine: 8.4, medium: 9, coarse: 10 },
  M10: { fine: 10.5, medium: 11, coarse: 12 },
  M12: { fine: 13, medium: 13.5, coarse: 14.5 },
  M14: { fine: 15, medium: 15.5, coarse: 16.5 },
  M16: { fine: 17, medium: 17.5, coarse: 18.5 },
};

/** Drill for a tapped hole of a coarse thread, mm. Source: ISO 2306, from memory; each within 0.1 of nominal less pitch. */
export const tapDrillMm: Readonly<Record<ThreadName, number>> = {
  ...{ M4: 3.3, M5: 4.2, M6: 5, M8: 6.8 },
  ...{ M10: 8.5, M12: 10.2, M14: 12, M16: 14 },
};

/** The thread whose ISO 273 medium clearance hole has this diameter, or undefined. @example threadOfMediumHole(6.6) // "M6" */
export const threadOfMediumHole = (diameterMm: number): ThreadName | undefined =>
  threadNames.find((name) => Math.abs(clearanceHolesMm[name].medium - diameterMm) < 1e-6);

/** The largest thread that goes through a hole of this diameter with at least 0.1 mm to spare, or undefined. @example threadThrough(8.4) // "M8" */
export const threadThrough = (diameterMm: number): ThreadName | undefined =>
  threadNames.filter((name) => Number(name.slice(1)) + 0.1 <= diameterMm + 1e-9).at(-1);

/** Sizes of the parts that go with a thread, mm. */
export interface Hardware {
  /** Width across flats of head and nut. */
  readonly acrossFlatsMm: number;
  /** Across corners: 2/√3 of the flats, sharp corners. */
  readonly acrossCornersMm: number;
  readonly headHeightMm: number;
  readonly nutHeightMm: number;
  readonly washerDiameterMm: number;
  readonly washerThicknessMm: number;
  /** Outside diameter of the socket of a ball joint on a stud of this thread. */
  readonly jointHeadDiameterMm: number;
}

/*
 * Flats and nut (largest height): ISO 4032. Head: ISO 4017. Washer: ISO 7089. Joint heads: DIN 71802, from dealers' tables; M4 is
 * ours, scaled down. None checked against the standard's text.
 */
const HARDWARE: Readonly<Record<ThreadName, readonly [number, number, number, number, number, number]>> = {
  M4: [7, 2.8, 3.2, 9, 0.8, 10.8],
  M5: [8, 3.5, 4.7, 10, 1, 12.8],
  M6: [10, 4, 5.2, 12, 1.6, 14.8],
  M8: [13, 5.3, 6.8, 16, 1.6, 19.3],
  M10: [16, 6.4, 8.4, 20, 2, 24],
  M12: [18, 7.5, 10.8, 24, 2.5, 24],
  M14: [21, 8.8, 12.8, 28, 2.5, 30],
  M16: [24, 10, 14.8, 30, 3, 30],
};

/** Hexagon head, nut, washer and ball-joint sizes of a thread. Sources: ISO 4032, ISO 4017, ISO 7089, DIN 71802. */
export function hardwareOf(thread: ThreadName): Hardware {
  const [flats, head, nut, washer, washerThick, joint] = HARDWARE[thread];
  return {
    acrossFlatsMm: flats,
    acrossCornersMm: (flats * 2) / Math.sqrt(3),
    headHeightMm: head,
    nutHeightMm: nut,
    washerDiameterMm: washer,
    washerThicknessMm: washerThick,
    jointHeadDiameterMm: joint,
  };
}
