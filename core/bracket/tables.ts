/** Coarse pitches of ISO 261, mm, for the sizes that brackets and ball studs use. */
const COARSE_PITCH_MM = { M5: 0.8, M6: 1, M8: 1.25, M10: 1.5, M12: 1.75 } as const;

/** Name of a coarse metric thread. */
export type ThreadName = keyof typeof COARSE_PITCH_MM;

/** All thread names, smallest first. */
export const threadNames = Object.keys(COARSE_PITCH_MM) as ThreadName[];

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
  M5: { fine: 5.3, medium: 5.5, coarse: 5.8 },
  M6: { fine: 6.4, medium: 6.6, coarse: 7 },
  M8: { fine: 8.4, medium: 9, coarse: 10 },
  M10: { fine: 10.5, medium: 11, coarse: 12 },
  M12: { fine: 13, medium: 13.5, coarse: 14.5 },
};

/** The thread whose ISO 273 medium clearance hole has this diameter, or undefined. @example threadOfMediumHole(6.6) // "M6" */
export const threadOfMediumHole = (diameterMm: number): ThreadName | undefined =>
  threadNames.find((name) => Math.abs(clearanceHolesMm[name].medium - diameterMm) < 1e-6);
