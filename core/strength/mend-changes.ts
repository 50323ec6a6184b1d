import { clearanceHolesMm, coarseThread, threadNames } from '../bracket';
import type { Bracket } from '../job';

/** A value put at a key path of the bracket; the path's first key is a bracket's own. */
export interface BracketSetting {
  readonly path: readonly (string | number)[];
  readonly value: number | string | object;
}

/** One change that may mend a check. `effort` orders them: what a workshop minds least comes first (common practice, no source). */
export interface Change {
  readonly label: string;
  readonly effort: number;
  readonly settings: readonly BracketSetting[];
}

/** Thicknesses that sheet and plate are kept in, mm: common practice, no source. */
export const STOCK_MM = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25] as const;

const round = (x: number): number => Math.round(x * 10) / 10;

const put = (node: unknown, [key, ...rest]: readonly (string | number)[], value: unknown): unknown => {
  if (key === undefined) return value;
  const copy = (Array.isArray(node) ? [...(node as unknown[])] : { ...(node as object) }) as Record<
    string | number,
    unknown
  >;
  copy[key] = put(copy[key] ?? {}, rest, value);
  return copy;
};

/** The bracket with a change made. */
export const changed = (bracket: Bracket, change: Change): Bracket =>
  change.settings.reduce<Bracket>((b, s) => put(b, s.path, s.value) as Bracket, bracket);

/** Two changes as one. */
export const together = (a: Change, b: Change): Change => ({
  label: `${a.label}, ${b.label.charAt(0).toLowerCase()}${b.label.slice(1)}`,
  effort: a.effort + b.effort + 0.5,
  settings: [...a.settings, ...b.settings],
});

/** What attach needs to exist at all. */
const attach = (b: Bracket, key: string, value: number | string): BracketSetting[] => [
  ...(b.attach ? [] : [{ path: ['attach', 'by'], value: 'bolts' }]),
  { path: ['attach', key], value },
];

const bent = (b: Bracket): boolean => b.kind !== 'flat-tab' && b.kind !== 'wedge-plate';

/** Thicker sheet, next gauges first; the bend's radius grows along where it would become too tight. */
export const thicker = (b: Bracket): Change[] =>
  STOCK_MM.filter((t) => t > b.thicknessMm + 1e-9)
    .slice(0, 5)
    .map((t, i) => ({
      label: `Make it ${t} mm thick`,
      effort: 2 + i,
      settings: [
        { path: ['thicknessMm'], value: t },
        ...(bent(b) && (b.insideRadiusMm ?? 0) < t ? [{ path: ['insideRadiusMm'], value: t }] : []),
      ],
    }));

/** Wider: a quarter, a half, twice; the stud’s end along with it. */
export const wider = (b: Bracket): Change[] =>
  [1.25, 1.5, 2].map((by, i) => {
    const width = round(b.baseWidthMm * by);
    const top = b.topWidthMm !== undefined ? round(b.topWidthMm * by) : undefined;
    return {
      label: `Make it ${width} mm wide`,
      effort: 2 + 1.5 * i,
      settings: [
        { path: ['baseWidthMm'], value: width },
        ...(top === undefined ? [] : [{ path: ['topWidthMm'], value: top }]),
      ],
    };
  });

/** The ball over the mount instead of beyond it: costs nothing but turning the stud round. */
export const ballInside = (b: Bracket): Change[] =>
  bent(b) && b.kind !== 'channel' && b.ballSide !== 'inside'
    ? [{ label: 'Move the ball to the inside face', effort: 0.5, settings: [{ path: ['ballSide'], value: 'inside' }] }]
    : [];

/** The same stud or pin of a higher property class than now. */
export const strongerStud = (b: Bracket, now: string): Change[] =>
  ['8.8', '10.9', '12.9']
    .filter((c) => Number(c) > (Number(now) || 0))
    .map((c, i) => ({
      label: `Take a ${b.kind === 'channel' ? 'pin' : 'stud'} of class ${c}`,
      effort: 1 + 0.5 * i,
      settings: [{ path: ['stud', 'propertyClass'], value: c }],
    }));

const biggerThreads = (thread: string): (typeof threadNames)[number][] => {
  const i = threadNames.indexOf(thread as (typeof threadNames)[number]);
  return i < 0 ? [] : threadNames.slice(i + 1, i + 4);
};

/** A larger stud: its hole grows with it. Its class is asked for along, so that the proposal says what it reckons with. */
export const largerStud = (b: Bracket, thread: string, className: string): Change[] =>
  biggerThreads(thread).map((next, i) => ({
    label: `Take ${next} of class ${className} for the ${b.kind === 'channel' ? 'pin' : 'stud'}`,
    effort: 3 + i + (className === '8.8' ? 0 : 0.5),
    settings: [
      { path: ['stud', 'thread'], value: next },
      { path: ['stud', 'propertyClass'], value: className },
      { path: ['studHole', 'diameterMm'], value: clearanceHolesMm[next].fine },
    ],
  }));

const holeSettings = (b: Bracket, diameterMm: number): BracketSetting[] =>
  b.fixings
    ? b.fixings.map((_, i) => ({ path: ['fixings', i, 'diameterMm'], value: diameterMm }))
    : [{ path: ['baseHole', 'diameterMm'], value: diameterMm }];

/** The next three threads for the fixings, with their medium clearance holes. */
export const largerFixings = (b: Bracket, thread: string): Change[] =>
  biggerThreads(thread).map((next, i) => ({
    label: `Take ${next} for the fixings`,
    effort: 2 + i,
    settings: [...attach(b, 'thread', next), ...holeSettings(b, clearanceHolesMm[next].medium)],
  }));

/** The same fixings of a higher property class than now. */
export const strongerFixings = (b: Bracket, now: string): Change[] =>
  ['8.8', '10.9']
    .filter((c) => Number(c) > (Number(now) || 0))
    .map((c, i) => ({
      label: `Take fixings of class ${c}`,
      effort: 1 + 0.5 * i,
      settings: attach(b, 'propertyClass', c),
    }));

/** A second fixing beside the first, or a second row. */
export function moreFixings(b: Bracket, holeMm: number): Change[] {
  const room = b.baseWidthMm - 2 * Math.max(1.5 * holeMm, holeMm / 2 + 4);
  const apart = round(Math.max(3 * holeMm, Math.min(room, b.baseWidthMm * 0.6)));
  const row = round(3 * holeMm);
  if (b.fixings) {
    if (b.fixings.length !== 1) return [];
    const one = b.fixings[0]!;
    const pair = [
      { ...one, acrossMm: one.acrossMm - apart / 2 },
      { ...one, id: `${one.id}-2`, acrossMm: one.acrossMm + apart / 2 },
    ];
    return [
      {
        label: 'Set two fixings side by side in place of the one',
        effort: 2.5,
        settings: [{ path: ['fixings'], value: pair }],
      },
    ];
  }
  const pattern = b.baseHole;
  if (!pattern) return [];
  const across = pattern.across ?? 2;
  const rows = pattern.rows ?? 1;
  const beside: Change[] =
    across < 2
      ? [
          {
            label: 'Set two fixings side by side in place of the one',
            effort: 2.5,
            settings: [
              { path: ['baseHole', 'across'], value: across + 1 },
              { path: ['baseHole', 'spacingMm'], value: apart },
            ],
          },
        ]
      : [];
  const behind: Change[] =
    rows < 2
      ? [
          {
            label: 'Add a second row of fixings',
            effort: 3,
            settings: [
              { path: ['baseHole', 'rows'], value: rows + 1 },
              { path: ['baseHole', 'rowSpacingMm'], value: row },
            ],
          },
        ]
      : [];
  return [...beside, ...behind];
}

/** A gusset in the bend, or two beside the stud's nut; sized from the legs. */
export function gussets(b: Bracket): Change[] {
  if (b.kind !== 'bent-angle') return [];
  const up = round(Math.min((b.uprightLegMm ?? 0) * 0.55, (b.uprightLegMm ?? 0) - b.thicknessMm));
  const along = round(b.baseLegMm * 0.55);
  return ([1, 2] as const).map((count) => ({
    label: count === 1 ? 'Weld a gusset into the bend' : 'Weld two gussets into the bend',
    effort: 4 + count,
    settings: [
      { path: ['kind'], value: 'gusset-angle' },
      { path: ['gusset'], value: { thicknessMm: b.thicknessMm, alongMm: along, upMm: up, count } },
    ],
  }));
}

/** A plate that spreads the load on the sheet it sits on. */
export function spreaders(b: Bracket): Change[] {
  if (!b.seat) return [];
  const t = b.seat.thicknessMm;
  return [1, 2, 4].flatMap((by, i) => {
    const thick = STOCK_MM.find((s) => s >= by * t - 1e-9);
    const [length, width] = [round(2 * (i + 1) * b.baseLegMm), round(2 * (i + 1) * b.baseWidthMm)];
    return thick === undefined
      ? []
      : [
          {
            label: `Put a spreader plate of ${length} × ${width} × ${thick} mm under it`,
            effort: 2 + i,
            settings: [{ path: ['seat', 'spreader'], value: { thicknessMm: thick, widthMm: width, lengthMm: length } }],
          },
        ];
  });
}

/** The same weld with a larger throat (mm). */
export const thickerWeld = (throatMm: number): Change[] =>
  [1.5, 2].map((by, i) => ({
    label: `Weld it with a throat of ${round(by * throatMm)} mm`,
    effort: 1 + i,
    settings: [{ path: ['attach', 'weldThroatMm'], value: round(by * throatMm) }],
  }));

/** Every edge of the fixed leg welded, where only some are. */
export const allEdges = (b: Bracket): Change[] =>
  b.attach?.weldEdges && b.attach.weldEdges !== 'all'
    ? [{ label: 'Weld all edges', effort: 1, settings: [{ path: ['attach', 'weldEdges'], value: 'all' }] }]
    : [];

/** The gusset’s welds with a larger throat (mm). */
export const thickerGussetWeld = (b: Bracket, throatMm: number): Change[] =>
  b.gusset
    ? [1.5, 2].map((by, i) => ({
        label: `Weld the gusset with a throat of ${round(by * throatMm)} mm`,
        effort: 1 + i,
        settings: [{ path: ['gusset', 'weldThroatMm'], value: round(by * throatMm) }],
      }))
    : [];

/** Thread engaged longer, as far as two diameters. */
export const deeperThread = (b: Bracket, thread: string, nowMm: number, mostMm: number): Change[] => {
  const next = Math.min(mostMm, 2 * coarseThread(thread as (typeof threadNames)[number]).diameterMm);
  return next > nowMm + 0.1
    ? [
        {
          label: `Let ${round(next)} mm of thread carry`,
          effort: 1,
          settings: attach(b, 'engagementMm', round(next)),
        },
      ]
    : [];
};

/** A bracket whose ball hangs lower over its mount: the stud's hole comes down. */
export const lowerBall = (b: Bracket): Change[] => {
  const height = b.studHole.heightMm;
  if (!bent(b) || height === undefined) return [];
  return [0.85, 0.7].map((by, i) => ({
    label: `Bring the stud down to ${round(height * by)} mm over the mount`,
    effort: 1.5 + i,
    settings: [{ path: ['studHole', 'heightMm'], value: round(height * by) }],
  }));
};
