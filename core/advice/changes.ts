// What may be changed of a job to mend a finding. Nothing here says that it helps: that is tried.
import { attempt } from '../error';
import { type Finding, type Setting, strutName } from '../findings';
import { type EndName, type ResolvedJob, setValue } from '../job';
import { type Dimension, type ShownUnits, formatQuantity } from '../quantity';
import { type Vec3, norm, perpendicularTo, scale, sub } from '../space';
import { USUAL_BODIES, usualBody, usualToleranceN } from '../strut';
import { type Frame, lengthRange, makeFrame } from '../travel';

/** Something that could be changed, as one edit. */
export interface Change {
  readonly label: string;
  readonly settings: readonly Setting[];
}

/** A change that has a size. */
export interface Knob {
  /** Of each kind one change is offered at most. */
  readonly kind: string;
  /** Its size in the job as it is. */
  readonly now: number;
  readonly low: number;
  readonly high: number;
  /** How far it is turned first, and where that does nothing. */
  readonly step: number;
  readonly wide: number;
  /** Sizes are whole multiples of this. */
  readonly grain: number;
  readonly change: (size: number) => Change;
}

/** A change that is or is not. */
export interface Switch {
  readonly kind: string;
  readonly change: Change;
}
export type Way = Knob | Switch;
/** The kind of what the finding's own check proposes, which says itself what it is. */
export const OWN = 'own';

const MOST_N = 5000;
/** Pivots and masses are moved so far at most, mm. */
const MOST_MOVE_MM = 150;
/** So many struts are tried; a lid has one or two. */
const MOST_STRUTS = 4;

const AXES = [
  ['forward', 'back'],
  ['to the left', 'to the right'],
  ['up', 'down'],
] as const;

/** The job with a change made. */
export const changed = (job: ResolvedJob, { settings }: Change): ResolvedJob =>
  settings.reduce((next, setting) => setValue(next, setting), job);

/** Makes the ways of changing one job. */
class Ways {
  private readonly f: (value: number, dimension: Dimension) => string;
  private readonly frame: Frame;

  constructor(
    private readonly job: ResolvedJob,
    units: ShownUnits,
  ) {
    this.f = (value, dimension) => formatQuantity(value, dimension, units);
    this.frame = makeFrame(job);
  }

  private who(k: number): string {
    return this.job.struts.length > 1 ? ` for ${strutName(this.job, this.job.struts[k]!.id)}` : '';
  }

  force = (k: number): Way => {
    const { spec } = this.job.struts[k]!;
    const path = ['struts', k, 'spec'];
    const { forceN: now } = spec;
    return {
      ...{ kind: `force ${k}`, now, low: 10, high: MOST_N },
      ...{ step: Math.max(10, 0.05 * now), wide: Math.max(50, 0.5 * now), grain: now < 300 ? 5 : 10 },
      change: (forceN) => ({
        label: `Take a ${forceN > now ? 'stronger' : 'weaker'} strut${this.who(k)}: ${this.f(forceN, 'force')} instead of ${this.f(now, 'force')}`,
        settings: [
          { path: [...path, 'forceN'], value: forceN },
          ...(spec.assumed?.includes('toleranceN')
            ? [{ path: [...path, 'toleranceN'], value: usualToleranceN(usualBody(spec.rodMm, spec.tubeMm), forceN) }]
            : []),
        ],
      }),
    };
  };

  extended = (k: number): Way => {
    const { extendedMm: now } = this.job.struts[k]!.spec;
    return {
      ...{ kind: `extended ${k}`, now, low: 60, high: 4 * now, step: 10, wide: 50, grain: 1 },
      change: (size) => ({
        label: `Take a ${size > now ? 'longer' : 'shorter'} strut${this.who(k)}: ${this.f(size, 'length')} extended instead of ${this.f(now, 'length')}`,
        settings: [{ path: ['struts', k, 'spec', 'extendedMm'], value: size }],
      }),
    };
  };

  stroke = (k: number): Way => {
    const { strokeMm: now } = this.job.struts[k]!.spec;
    return {
      ...{ kind: `stroke ${k}`, now, low: 20, high: 4 * now, step: 10, wide: 50, grain: 1 },
      change: (size) => ({
        label: `Take a strut with ${size > now ? 'more' : 'less'} stroke${this.who(k)}: ${this.f(size, 'length')} instead of ${this.f(now, 'length')}`,
        settings: [{ path: ['struts', k, 'spec', 'strokeMm'], value: size }],
      }),
    };
  };

  /** Lengths that reach and shut with their reserves, as far as the lid opens now. */
  private lengths(k: number, frame: Frame): { readonly extendedMm: number; readonly strokeMm: number } {
    const { reserveMm } = this.job.limits;
    const { shortestMm, longestMm } = lengthRange(frame.struts[k]!.law, this.frame.openDeg);
    const stops = this.frame.stoppedBy === this.job.struts[k]!.id;
    const extendedMm = Math.ceil(longestMm + (stops ? 0 : reserveMm) - 1e-9);
    return { extendedMm, strokeMm: Math.ceil(extendedMm - shortestMm + reserveMm - 1e-9) };
  }

  private fits(k: number, frame: Frame): boolean {
    const { spec, id } = this.job.struts[k]!;
    const { shortestMm, longestMm } = lengthRange(frame.struts[k]!.law, frame.openDeg);
    const { reserveMm } = this.job.limits;
    return (
      spec.extendedMm >= longestMm + (frame.stoppedBy === id ? -1e-6 : reserveMm) &&
      spec.extendedMm - spec.strokeMm <= shortestMm - reserveMm
    );
  }

  private readonly lengthWords = ({ extendedMm, strokeMm }: { extendedMm: number; strokeMm: number }): string =>
    `${this.f(extendedMm, 'length')} extended with ${this.f(strokeMm, 'length')} of stroke`;

  private readonly lengthSettings = (
    k: number,
    lengths: { readonly extendedMm: number; readonly strokeMm: number },
  ): Setting[] => [
    { path: ['struts', k, 'spec', 'extendedMm'], value: lengths.extendedMm },
    { path: ['struts', k, 'spec', 'strokeMm'], value: lengths.strokeMm },
  ];

  fitted = (k: number): Way => {
    const lengths = this.lengths(k, this.frame);
    return {
      kind: `lengths ${k}`,
      change: {
        label: `Take a strut${this.who(k)} of ${this.lengthWords(lengths)}`,
        settings: this.lengthSettings(k, lengths),
      },
    };
  };

  quantity = (k: number): Way => {
    const { quantity, spec } = this.job.struts[k]!;
    const more = quantity === 1;
    return {
      kind: `quantity ${k}`,
      change: {
        label: more
          ? `Take two struts of ${this.f(spec.forceN, 'force')}, a mirror pair${this.who(k)}`
          : `Take one strut of ${this.f(spec.forceN, 'force')} instead of the pair${this.who(k)}`,
        settings: [{ path: ['struts', k, 'quantity'], value: more ? 2 : 1 }],
      },
    };
  };

  /** Thicker bodies that are made: rod and tube together. */
  thicker = (k: number): Way[] => {
    const { rodMm } = this.job.struts[k]!.spec;
    return USUAL_BODIES.filter((b) => b.rodMm > rodMm).map((b) => ({
      kind: `body ${k}`,
      change: {
        label: `Take a thicker strut${this.who(k)}: rod ${this.f(b.rodMm, 'length')}, tube ${this.f(b.tubeMm, 'length')}`,
        settings: [
          { path: ['struts', k, 'spec', 'rodMm'], value: b.rodMm },
          { path: ['struts', k, 'spec', 'tubeMm'], value: b.tubeMm },
        ],
      },
    }));
  };

  /** Moves one end along X, Y or Z; where the strut no longer fits there, its lengths go along. */
  pivot = (k: number, end: EndName, axis: number): Way => {
    const id = this.job.struts[k]![end];
    const i = this.job.points.findIndex((p) => p.id === id);
    const at = this.job.points[i]!.at;
    const fitted = this.fits(k, this.frame);
    return {
      ...{ kind: `${end} pivot ${k}`, now: 0, low: -MOST_MOVE_MM, high: MOST_MOVE_MM, step: 10, wide: 60, grain: 5 },
      change: (size) => {
        const settings: Setting[] = [
          { path: ['points', i, 'at', axis], value: Math.round((at[axis]! + size) * 1e3) / 1e3 },
        ];
        const way = AXES[axis]![size > 0 ? 0 : 1];
        const label = `Move the ${end} end${this.who(k).replace(' for', ' of')} ${this.f(Math.abs(size), 'length')} ${way}`;
        const moved = fitted ? attempt(() => makeFrame(changed(this.job, { label, settings }))).value : null;
        if (!moved || this.fits(k, moved)) return { label, settings };
        const lengths = this.lengths(k, moved);
        return {
          label: `${label}, with a strut of ${this.lengthWords(lengths)}`,
          settings: [...settings, ...this.lengthSettings(k, lengths)],
        };
      },
    };
  };

  pivots = (k: number, ends: readonly EndName[] = ['lid', 'base']): Way[] =>
    ends.flatMap((end) => [2, 0, 1].map((axis) => this.pivot(k, end, axis)));

  /** Turns a joint on its mount, and leans it. */
  joint = (k: number, end: EndName): Way[] => {
    const { mount, azimuthDeg = 0, tiltDeg = 0 } = this.job.struts[k]!.ends[end];
    if (!mount) return [];
    const path = ['struts', k, 'ends', end];
    const name = `the ${end} joint${this.who(k).replace(' for', ' of')}`;
    return [
      {
        ...{ kind: `turn ${end} ${k}`, now: azimuthDeg, low: azimuthDeg - 180, high: azimuthDeg + 180 },
        ...{ step: 5, wide: 40, grain: 1 },
        change: (size) => ({
          label: `Turn ${name} to ${this.f(size, 'angle')}`,
          settings: [{ path: [...path, 'azimuthDeg'], value: size }],
        }),
      },
      {
        ...{ kind: `lean ${end} ${k}`, now: tiltDeg, low: -45, high: 45, step: 3, wide: 15, grain: 1 },
        change: (size) => ({
          label: `Lean ${name} to ${this.f(size, 'angle')}`,
          settings: [{ path: [...path, 'tiltDeg'], value: size }],
        }),
      },
    ];
  };

  opening = (): Way => {
    const now = this.frame.openDeg;
    return {
      ...{ kind: 'opening', now, low: 10, high: 175, step: 3, wide: 20, grain: 1 },
      change: (size) => ({
        label: `Open it to ${this.f(size, 'angle')} instead of ${this.f(now, 'angle')}`,
        settings: [{ path: ['travel', 'openDeg'], value: size }],
      }),
    };
  };

  /** A stop of the lid's own, a little before the strut's. */
  lidStop = (): Way => {
    const now = this.frame.openDeg;
    return {
      ...{ kind: 'stop', now, low: Math.max(1, now - 20), high: now, step: -5, wide: -10, grain: 1 },
      change: (size) => ({
        label: `Give the lid a stop of its own at ${this.f(size, 'angle')}`,
        settings: [
          { path: ['travel', 'stop'], value: 'lid' },
          { path: ['travel', 'openDeg'], value: size },
        ],
      }),
    };
  };

  /** Moves what is on the lid nearer to the hinge or further from it: all but the heaviest, which mostly is the lid itself. */
  masses = (): Way[] => {
    const { masses, points } = this.job;
    const heaviest = Math.max(...masses.map((m) => m.kg));
    const { origin, along } = this.frame.axis;
    return masses.flatMap((mass): Way[] => {
      const i = points.findIndex((p) => p.id === mass.at);
      const alone = masses.filter((m) => m.at === mass.at).length === 1;
      const at = points[i]!.at as Vec3;
      const arm = perpendicularTo(sub(at, origin), along);
      const radius = norm(arm);
      if (mass.kg === heaviest || mass.kg === 0 || !alone || radius < 50) return [];
      const out = scale(arm, 1 / radius);
      return [
        {
          ...{
            kind: `mass ${mass.id}`,
            now: 0,
            low: Math.max(-MOST_MOVE_MM, -0.6 * radius),
            high: MOST_MOVE_MM,
            step: 20,
            wide: 100,
            grain: 5,
          },
          change: (size) => ({
            label: `Move ${mass.name ?? mass.id} ${this.f(Math.abs(size), 'length')} ${size > 0 ? 'further from' : 'nearer to'} the hinge`,
            settings: out.map((c, axis) => ({
              path: ['points', i, 'at', axis],
              value: Math.round((at[axis]! + size * c) * 10) / 10,
            })),
          }),
        },
      ];
    });
  };

  spring = (k: number): Way[] => {
    const spring = this.job.springs[k]!;
    const name = spring.name ?? 'the spring';
    const key = spring.kind === 'torsion' ? 'preloadNm' : 'preloadN';
    const rate = spring.kind === 'torsion' ? 'rateNmPerDeg' : 'rateNPerMm';
    const [preload, stiff] = [spring[key] ?? 0, spring[rate]];
    const dimension = key === 'preloadNm' ? 'moment' : 'force';
    return [
      {
        ...{ kind: `preload ${k}`, now: preload, low: 0, high: 10 * Math.max(preload, 20) },
        ...{ step: Math.max(1, 0.1 * preload), wide: Math.max(10, preload), grain: 1 },
        change: (size) => ({
          label: `Give ${name} a preload of ${this.f(size, dimension)} instead of ${this.f(preload, dimension)}`,
          settings: [{ path: ['springs', k, key], value: size }],
        }),
      },
      ...(stiff === undefined
        ? []
        : [
            {
              ...{ kind: `rate ${k}`, now: stiff, low: stiff / 10, high: 10 * stiff },
              ...{ step: 0.1 * stiff, wide: stiff, grain: stiff / 100 },
              change: (size: number): Change => ({
                label: `Take a ${size > stiff ? 'stiffer' : 'softer'} spring in place of ${name}: ${Number(size.toPrecision(3))} instead of ${Number(stiff.toPrecision(3))} ${rate === 'rateNPerMm' ? 'N/mm' : 'N·m/°'}`,
                settings: [{ path: ['springs', k, rate], value: Number(size.toPrecision(3)) }],
              }),
            },
          ]),
    ];
  };

  springEnds = (k: number): Way[] => {
    const spring = this.job.springs[k]!;
    return (['lid', 'base'] as const).flatMap((end) => {
      const i = this.job.points.findIndex((p) => p.id === spring[end]);
      if (i < 0) return [];
      return [2, 0, 1].map((axis): Way => ({
        ...{ kind: `spring ${end} ${k}`, now: 0, low: -MOST_MOVE_MM, high: MOST_MOVE_MM, step: 10, wide: 60, grain: 5 },
        change: (size) => ({
          label: `Move the ${end} end of ${spring.name ?? 'the spring'} ${this.f(Math.abs(size), 'length')} ${AXES[axis]![size > 0 ? 0 : 1]}`,
          settings: [
            { path: ['points', i, 'at', axis], value: Math.round((this.job.points[i]!.at[axis]! + size) * 1e3) / 1e3 },
          ],
        }),
      }));
    });
  };
}

/** Everything that might mend a finding of a job, the least work first. Throws a LidwrightError where the job can't be computed. */
export function waysFor(
  job: ResolvedJob,
  finding: Pick<Finding, 'id' | 'subject' | 'proposal'>,
  units: ShownUnits,
): Way[] {
  const ways = new Ways(job, units);
  const { id, subject, proposal } = finding;
  const own = job.struts.findIndex((s) => s.id === subject);
  const bracket = job.brackets.find((b) => b.id === subject);
  const holder = bracket ? job.struts.findIndex((s) => s.id === bracket.strut) : own;
  const struts = holder >= 0 ? [holder] : job.struts.map((_, k) => k).slice(0, MOST_STRUTS);
  const springs = job.springs.map((_, k) => k).slice(0, MOST_STRUTS);
  const each = (make: (k: number) => Way | Way[]): Way[] => struts.flatMap(make);
  const proposed: Way[] = proposal
    ? [{ kind: OWN, change: { label: proposal.label, settings: [proposal, ...(proposal.more ?? [])] } }]
    : [];
  const pivots = each((k) => ways.pivots(k));
  if (/-joint$|-swing$/.test(id)) {
    const end: EndName = id.startsWith('base') ? 'base' : 'lid';
    return [...proposed, ...each((k) => ways.joint(k, end)), ...pivots, ways.opening()];
  }
  if (id.startsWith('room-') || id === 'free-opening') return [...proposed, ways.opening()];
  if (id.startsWith('clearance-'))
    return [...pivots, ...each((k) => [...ways.joint(k, 'base'), ...ways.joint(k, 'lid')]), ways.opening()];
  switch (id) {
    case 'strut-fits':
    case 'closed-reserve':
    case 'open-reserve':
      return [...each((k) => [ways.fitted(k), ways.extended(k), ways.stroke(k)]), ...pivots, ways.opening()];
    case 'strut-exists':
      return [...each((k) => [ways.stroke(k), ways.extended(k)])];
    case 'dead-centre':
      return [...pivots, ways.opening()];
    case 'spring-travel': {
      const k = job.springs.findIndex((s) => s.id === subject);
      return k < 0 ? [] : [...ways.spring(k), ...ways.springEnds(k), ways.opening()];
    }
    case 'rod-buckling':
      return [...each(ways.thicker), ...each(ways.force), ...each(ways.extended), ...each(ways.quantity)];
    case 'hinge-screws':
      return proposed;
    case 'socket-pull':
      return [ways.lidStop(), ...each(ways.force), ...pivots];
    default:
      return [
        ...proposed,
        ...each(ways.force),
        ...each(ways.quantity),
        ...(holder >= 0 ? [] : springs.flatMap((k) => ways.spring(k))),
        ...pivots,
        ...ways.masses(),
        ways.opening(),
      ];
  }
}
