import type { Finding } from '../findings';
import type { Job } from '../job';
import { type Plan, dropEnergyJ, largestFall, latchN, letGo, restAngles } from '../travel';
import { type Workings, workingsOf } from '../workings';

type Triple = readonly [number, number, number];
type Row = (number | null)[];

/** One load case of the result file; a value that can't exist is null. */
export interface CaseResult {
  readonly id: string;
  readonly travel: {
    readonly angleDeg: Row;
    readonly weightMomentNm: Row;
    /** Moments of seal and wind; 0 where there is none. */
    readonly sealNm: Row;
    readonly windNm: Row;
    /** What is left over to open or shut the lid by itself. */
    readonly openingMomentNm: Row;
    readonly closingMomentNm: Row;
    readonly handOpeningN: Row;
    readonly handClosingN: Row;
    readonly hingeAN: (Triple | null)[];
    readonly hingeBN: (Triple | null)[];
    readonly hingeAxialN: Row;
    readonly struts: readonly {
      readonly id: string;
      readonly lengthMm: Row;
      readonly leverArmMm: Row;
      readonly balanceForceN: Row;
      readonly extendingN: Row;
      readonly compressingN: Row;
      readonly baseJointDeg: Row;
      readonly lidJointDeg: Row;
    }[];
  };
  readonly openDeg: number;
  readonly restAnglesDeg: number[];
  readonly dropEnergyJ: number;
  /** The largest fall without the strut between any two angles, J. */
  readonly largestFallJ: number;
  /** What the lid does unlatched with nobody holding it: undamped, so never more. */
  readonly letGo: {
    readonly openingJ: number | null;
    readonly openingFromDeg: number | null;
    readonly openingToDeg: number | null;
    readonly shuttingJ: number | null;
    readonly shuttingFromDeg: number | null;
    readonly shuttingToDeg: number | null;
    readonly gripAtShutN: number | null;
  };
  /** What the latch must hold with the lid shut; null without one. */
  readonly latchN: number | null;
}

/** What the headless command prints: the result file of a job. */
export interface Result {
  readonly title: string;
  readonly cases: readonly CaseResult[];
  readonly findings: readonly Finding[];
}

const plain = (v: number): number | null => (Number.isFinite(v) ? v + 0 : null);
const row = (values: Float64Array): Row => Array.from(values, plain);
const triples = (values: Float64Array): (Triple | null)[] =>
  Array.from({ length: values.length / 3 }, (_, i) => {
    const [x, y, z] = [plain(values[3 * i]!), plain(values[3 * i + 1]!), plain(values[3 * i + 2]!)];
    return x === null || y === null || z === null ? null : [x, y, z];
  });

function letGoOf(plan: Plan): CaseResult['letGo'] {
  const { opening, shutting, gripAtShutN } = letGo(plan);
  return {
    openingJ: opening && opening.energyJ,
    openingFromDeg: opening && opening.fromDeg,
    openingToDeg: opening && opening.toDeg,
    shuttingJ: shutting && shutting.energyJ,
    shuttingFromDeg: shutting && shutting.fromDeg,
    shuttingToDeg: shutting && shutting.toDeg,
    gripAtShutN,
  };
}

/** The result file of an outcome. */
export function toResult(title: string, outcome: Pick<Workings, 'plans' | 'tables' | 'advised'>): Result {
  return {
    title,
    cases: outcome.plans.map((plan, i) => {
      const t = outcome.tables[i]!;
      return {
        id: plan.caseId,
        travel: {
          angleDeg: row(t.angleDeg),
          weightMomentNm: row(t.weightMomentNm),
          sealNm: row(t.sealNm),
          windNm: row(t.windNm),
          openingMomentNm: row(t.openingMomentNm),
          closingMomentNm: row(t.closingMomentNm),
          handOpeningN: row(t.handOpeningN),
          handClosingN: row(t.handClosingN),
          hingeAN: triples(t.hingeAN),
          hingeBN: triples(t.hingeBN),
          hingeAxialN: row(t.hingeAxialN),
          struts: t.struts.map((s) => ({
            id: s.id,
            lengthMm: row(s.lengthMm),
            leverArmMm: row(s.leverArmMm),
            balanceForceN: row(s.balanceForceN),
            extendingN: row(s.extendingN),
            compressingN: row(s.compressingN),
            baseJointDeg: row(s.baseJointDeg),
            lidJointDeg: row(s.lidJointDeg),
          })),
        },
        openDeg: plan.openDeg,
        restAnglesDeg: restAngles(plan),
        dropEnergyJ: dropEnergyJ(plan) + 0,
        largestFallJ: largestFall(plan).energyJ,
        letGo: letGoOf(plan),
        latchN: latchN(plan),
      };
    }),
    // trying what helps takes long: only for who asks
    get findings() {
      return outcome.advised;
    },
  };
}

/** Works a job document out in every load case. Throws a LidwrightError when it can't be computed. */
export const checkJob = (job: Job): Result => toResult(job.title, workingsOf(job));
