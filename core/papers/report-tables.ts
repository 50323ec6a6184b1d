import { formatNumber } from '../drawing';
import { beaufort, describeValue } from '../quantity';
import { type ResolvedJob, type Strut, resolveGivens, type Job } from '../job';
import { questionWords } from '../findings';
import { fittingOf } from '../joint';

/** A table as data: what the report puts on its pages. */
export interface ReportTable {
  readonly heading: string;
  /** By heading and share of the width. */
  readonly columns: Readonly<Record<string, number>>;
  readonly rows: readonly (readonly string[])[];
}

/** A number as the report writes it: a true minus sign, at most `decimals`; "–" where there is none. */
export const figure = (value: number | null | undefined, decimals: number): string =>
  value === null || value === undefined || !Number.isFinite(value)
    ? '–'
    : formatNumber(value, decimals).replace(/^-/, '−');

/** A point by its name, else its id. */
export function pointNames(job: ResolvedJob): (id: string) => string {
  const names = new Map(job.points.map((p) => [p.id, p.name ?? p.id]));
  return (id) => names.get(id) ?? id;
}

/** A strut by its name, else numbered. */
export const strutTitle = (strut: Strut, index: number, of: number): string =>
  strut.name ?? (of > 1 ? `Strut ${index + 1}` : 'Strut');

/** A fitting as the trade calls it: its name where the table has it, else the job's own words. */
export const fittingWords = (id: string): string =>
  (fittingOf(id)?.name ?? id.replace(/[-_]+/g, ' ')).replace(/, size not said$/, '');

function givens(job: ResolvedJob): ReportTable {
  const list = job.givens ?? [];
  const scope = resolveGivens({ givens: list } as unknown as Job);
  return {
    heading: 'Given values',
    columns: { Name: 3, 'As typed': 5, Value: 3 },
    rows: list.map((g) => {
      const value = scope.get(g.name);
      return [g.name, g.expression, value === undefined ? '–' : describeValue(value)];
    }),
  };
}

function points(job: ResolvedJob): ReportTable {
  return {
    heading: 'Points, lid closed (mm; X forward, Y left, Z up)',
    columns: { Name: 6, 'Rides on': 2, X: 2, Y: 2, Z: 2 },
    rows: job.points.map((p) => [p.name ?? p.id, p.on, ...p.at.map((v) => figure(v, 1))]),
  };
}

function masses(job: ResolvedJob): ReportTable {
  const name = pointNames(job);
  const total = job.masses.reduce((sum, m) => sum + m.kg, 0);
  return {
    heading: `Masses on the lid, ${figure(total, 2)} kg in all`,
    columns: { What: 5, kg: 2, 'Centre at': 5 },
    rows: job.masses.map((m) => [m.name ?? m.id, figure(m.kg, 2), name(m.at)]),
  };
}

function struts(job: ResolvedJob): ReportTable {
  const name = pointNames(job);
  const rows = job.struts.flatMap((s, i) => {
    const { spec } = s;
    const title = strutTitle(s, i, job.struts.length);
    const assumed = (key: 'ratio' | 'frictionN' | 'toleranceN'): string =>
      spec.assumed?.includes(key) ? 'assumed (common practice)' : '';
    const row = (what: string, value: string, remark = ''): string[] => [title, what, value, remark];
    return [
      row('Pivots', `${name(s.base)} – ${name(s.lid)}`, s.quantity === 2 ? 'a pair, one mirrored' : ''),
      row(
        'Extended length, stroke',
        `${figure(spec.extendedMm, 1)} mm, ${figure(spec.strokeMm, 1)} mm`,
        `compressed ${figure(spec.extendedMm - spec.strokeMm, 1)} mm`,
      ),
      row('Rod / tube', `${figure(spec.rodMm, 1)} / ${figure(spec.tubeMm, 1)} mm`),
      row('Nominal force F1', `${figure(spec.forceN, 0)} N`, 'extending, 5 mm from full extension, 20 °C'),
      row(
        'Tolerance of the force',
        `${figure(spec.toleranceN[0], 0)} to ${figure(spec.toleranceN[1], 0)} N`,
        assumed('toleranceN'),
      ),
      row('Force ratio F2/F1', figure(spec.ratio, 2), assumed('ratio')),
      row('Friction band', `${figure(spec.frictionN, 0)} N`, assumed('frictionN')),
      ...(['base', 'lid'] as const).map((end) =>
        row(`Fitting, ${end} end`, fittingWords(s.ends[end].fitting), `may lean ±${figure(s.ends[end].rangeDeg, 1)}°`),
      ),
    ];
  });
  return { heading: 'Struts', columns: { Strut: 3, What: 4, Value: 5, Remark: 5 }, rows };
}

function springs(job: ResolvedJob): ReportTable {
  return {
    heading: 'Springs beside the struts',
    columns: { Spring: 3, Kind: 2, Quantity: 2, Rate: 3, Preload: 3 },
    rows: job.springs.map((s) => [
      s.name ?? s.id,
      s.kind,
      String(s.quantity),
      s.kind === 'torsion' ? `${figure(s.rateNmPerDeg, 3)} N·m/°` : `${figure(s.rateNPerMm, 2)} N/mm`,
      s.kind === 'torsion' ? `${figure(s.preloadNm ?? 0, 1)} N·m` : `${figure(s.preloadN ?? 0, 0)} N`,
    ]),
  };
}

function demands(job: ResolvedJob): ReportTable {
  const { limits, hinge, travel, latch, seal } = job;
  const optional = (what: string, value: number | undefined, unit: string): string[][] =>
    value === undefined ? [] : [[what, `${figure(value, 1)} ${unit}`]];
  return {
    heading: 'Hinge, travel and limits',
    columns: { What: 5, Value: 4 },
    rows: [
      ['Hinge', `${pointNames(job)(hinge.a)} – ${pointNames(job)(hinge.b)}, opens ${hinge.opens}`],
      ['Friction in the hinge', `${figure(hinge.frictionNm, 2)} N·m`],
      [
        'Opening angle',
        `${figure(travel.openDeg, 1)}°, ${travel.stop === 'strut' ? 'at most: the strut stops it' : 'a stop of its own'}`,
      ],
      ['Hand force to open, at most', `${figure(limits.handOpenN, 0)} N`],
      ['Hand force to close, at most', `${figure(limits.handCloseN, 0)} N`],
      ['Reserve of the stroke at both ends, at least', `${figure(limits.reserveMm, 1)} mm`],
      ['Moment that holds it open, at least', `${figure(limits.holdOpenNm, 1)} N·m`],
      ['Clearance, at least', `${figure(limits.clearanceMm, 1)} mm`],
      ...optional('Energy when it is let go, at most', limits.letGoJ, 'J'),
      ...optional('Push at the grip when unlatched, at most', limits.letGoN, 'N'),
      ...optional('One hinge bears, square to its axis', hinge.ratedN, 'N'),
      ...(hinge.screws
        ? [
            [
              'Screws of one hinge’s leaf',
              `${hinge.screws.count} of ${figure(hinge.screws.diameterMm, 1)} × ${figure(hinge.screws.lengthMm, 0)} mm in ${hinge.screws.material}, ${figure(hinge.screws.thicknessMm, 1)} mm`,
            ],
          ]
        : []),
      ...(hinge.overCentre ? [['Over-centre', 'a strut is meant to go over its dead centre']] : []),
      ...(latch
        ? [
            [
              'Latch',
              `${pointNames(job)(latch.at)}, ${latch.ratedN === undefined ? 'what it holds is not stated' : `holds ${figure(latch.ratedN, 0)} N`}`,
            ],
          ]
        : []),
      ...(seal ? [['Seal', `${figure(seal.forceN, 0)} N closed, none after ${figure(seal.overMm, 1)} mm`]] : []),
    ],
  };
}

const FORCE_WORDS = { low: 'lowest', nominal: 'nominal', high: 'highest' } as const;

function loadCases(job: ResolvedJob): ReportTable {
  const masses = new Map(job.masses.map((m) => [m.id, m.name ?? m.id]));
  const struts = new Map(job.struts.map((s, i) => [s.id, strutTitle(s, i, job.struts.length)]));
  return {
    heading: 'Load cases',
    columns: { 'Load case': 6, Off: 4, 'Pitch, roll': 3, '°C': 2, Force: 3, Remark: 5 },
    rows: job.loadCases.map((c) => [
      c.name,
      c.off.map((id) => masses.get(id) ?? id).join(', '),
      `${figure(c.pitchDeg, 1)}°, ${figure(c.rollDeg, 1)}°`,
      figure(c.tempC, 0),
      FORCE_WORDS[c.force],
      [
        c.ageLossPercent > 0 ? `aged, ${figure(c.ageLossPercent, 0)} % of the pressure lost` : '',
        c.lost.length > 0 ? `lost: ${c.lost.map((id) => struts.get(id) ?? id).join(', ')}` : '',
        c.accelG.some((a) => a !== 0) ? `base accelerates ${c.accelG.map((a) => figure(a, 3)).join(', ')} g` : '',
        c.wind
          ? `wind ${figure(c.wind.ms, 1)} m/s (Beaufort ${beaufort(c.wind.ms)}), ${
              typeof c.wind.towards === 'object'
                ? `toward ${c.wind.towards.map((v) => figure(v, 2)).join(', ')}`
                : c.wind.towards === 'open'
                  ? 'opening it'
                  : 'shutting it'
            }, coefficient ${figure(c.wind.coefficient, 2)}`
          : '',
        c.mustHold ? '' : 'told, not demanded',
      ]
        .filter((t) => t !== '')
        .join('; '),
    ]),
  };
}

function leftOut(job: ResolvedJob): ReportTable {
  return {
    heading: 'Left out on purpose',
    columns: { What: 3, Because: 7 },
    rows: (job.dismissed ?? []).map(({ finding, about, reason }) => [
      finding === 'asked' ? `No load case for ${questionWords(about) ?? 'anything'}` : finding,
      reason,
    ]),
  };
}

/** Everything that went in, as tables. */
export const inputTables = (job: ResolvedJob): ReportTable[] =>
  [givens, points, masses, struts, springs, demands, loadCases, leftOut]
    .map((table) => table(job))
    .filter(({ rows }) => rows.length > 0);
