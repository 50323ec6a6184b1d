import { clearanceHolesMm, isBent, isPinned, threadNames } from '../bracket';
import type { Bracket } from '../job';
import type { Screw, StrengthModel } from './model';
import { SCREW_LENGTHS_MM } from './wood';

/** A value put at a key path of the bracket; the path's first key is a bracket's own. */
export interface BracketSetting {
  readonly path: readonly (string | number)[];
  readonly value: number | string | object;
}

/** One change that may repair a check. `effort` orders them: what a workshop minds least comes first (common practice, no source). */
export interface Change {
  readonly label: string;
  readonly effort: number;
  readonly settings: readonly BracketSetting[];
}

/** Changes of one sort that a bracket allows, with what strength knows of it. */
export type ChangesOf = (bracket: Bracket, model: StrengthModel) => Change[];

/** Thicknesses that sheet and plate are kept in, mm: common practice, no source. */
const STOCK_MM = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25] as const;

const round = (x: number): number => Math.round(x * 10) / 10;

/** Two changes as one. */
const together = (a: Change, b: Change): Change => ({
  label: `${a.label}, ${b.label.charAt(0).toLowerCase()}${b.label.slice(1)}`,
  effort: a.effort + b.effort + 0.5,
  settings: [...a.settings, ...b.settings],
});

/** Every two changes as one; where two pairs are as much work, the outer one's order counts. */
const pairs =
  (outer: ChangesOf, inner: ChangesOf, join = together): ChangesOf =>
  (b, m) =>
    outer(b, m).flatMap((x) => inner(b, m).map((y) => join(x, y)));

/** What attach needs to exist at all. */
const attach = (b: Bracket, key: string, value: number | string): BracketSetting[] => [
  ...(b.attach ? [] : [{ path: ['attach', 'by'], value: 'bolts' }]),
  { path: ['attach', key], value },
];

const studOrPin = (b: Bracket): string => (isPinned(b) ? 'pin' : 'stud');

/** Thicker sheet, next gauges first; the bend's radius grows along where it would become too tight. */
export const thicker: ChangesOf = (b) =>
  STOCK_MM.filter((t) => t > b.thicknessMm + 1e-9)
    .slice(0, 5)
    .map((t, i) => ({
      label: `Make it ${t} mm thick`,
      effort: 2 + i,
      settings: [
        { path: ['thicknessMm'], value: t },
        ...(isBent(b) && (b.insideRadiusMm ?? 0) < t ? [{ path: ['insideRadiusMm'], value: t }] : []),
      ],
    }));

/** Wider: a quarter, a half, twice; the stud’s end along with it. */
export const wider: ChangesOf = (b) =>
  [1.25, 1.5, 2].map((by, i) => ({
    label: `Make it ${round(b.baseWidthMm * by)} mm wide`,
    effort: 2 + 1.5 * i,
    settings: [
      { path: ['baseWidthMm'], value: round(b.baseWidthMm * by) },
      ...(b.topWidthMm === undefined ? [] : [{ path: ['topWidthMm'], value: round(b.topWidthMm * by) }]),
    ],
  }));

/** The ball over the mount instead of beyond it: costs nothing but turning the stud round. */
export const ballInside: ChangesOf = (b) =>
  isBent(b) && !isPinned(b) && b.ballSide !== 'inside'
    ? [{ label: 'Move the ball to the inside face', effort: 0.5, settings: [{ path: ['ballSide'], value: 'inside' }] }]
    : [];

/** A bracket whose ball hangs lower over its mount: the stud's hole comes down. */
const lowerBall: ChangesOf = (b) => {
  const height = b.studHole.heightMm;
  if (!isBent(b) || height === undefined) return [];
  return [0.85, 0.7].map((by, i) => ({
    label: `Bring the stud down to ${round(height * by)} mm over the mount`,
    effort: 1.5 + i,
    settings: [{ path: ['studHole', 'heightMm'], value: round(height * by) }],
  }));
};

const higherClasses = (classes: readonly string[], { className }: Screw): readonly string[] =>
  classes.filter((c) => Number(c) > (Number(className) || 0));

const biggerThreads = ({ thread }: Screw): readonly Screw['thread']['name'][] => {
  const i = threadNames.indexOf(thread.name);
  return threadNames.slice(i + 1, i + 4);
};

/** The same stud or pin of a higher property class than now. */
export const strongerStud: ChangesOf = (b, { stud }) =>
  (stud ? higherClasses(['8.8', '10.9', '12.9'], stud) : []).map((c, i) => ({
    label: `Take a ${studOrPin(b)} of class ${c}`,
    effort: 1 + 0.5 * i,
    settings: [{ path: ['stud', 'propertyClass'], value: c }],
  }));

/** A larger stud: its hole grows with it. Its class is asked for along, so that the proposal says what it reckons with. */
export const largerStud: ChangesOf = (b, { stud }) =>
  ['8.8', '10.9'].flatMap((className, dearer) =>
    (stud ? biggerThreads(stud) : []).map((next, i) => ({
      label: `Take ${next} of class ${className} for the ${studOrPin(b)}`,
      effort: 3 + i + 0.5 * dearer,
      settings: [
        { path: ['stud', 'thread'], value: next },
        { path: ['stud', 'propertyClass'], value: className },
        { path: ['studHole', 'diameterMm'], value: clearanceHolesMm[next].fine },
      ],
    })),
  );

/** The next three threads for the fixings, with their medium clearance holes. */
const largerFixings: ChangesOf = (b, { bolts }) =>
  (bolts ? biggerThreads(bolts) : []).map((next, i) => {
    const value = clearanceHolesMm[next].medium;
    const holes = b.fixings?.map((_, k) => ['fixings', k, 'diameterMm']) ?? [['baseHole', 'diameterMm']];
    return {
      label: `Take ${next} for the fixings`,
      effort: 2 + i,
      settings: [...attach(b, 'thread', next), ...holes.map((path) => ({ path, value }))],
    };
  });

/** The same fixings of a higher property class than now. */
const strongerFixings: ChangesOf = (b, { bolts }) =>
  (bolts ? higherClasses(['8.8', '10.9'], bolts) : []).map((c, i) => ({
    label: `Take fixings of class ${c}`,
    effort: 1 + 0.5 * i,
    settings: attach(b, 'propertyClass', c),
  }));

/** A second fixing beside the first, or a second row. */
export const moreFixings: ChangesOf = (b, { fixings }) => {
  const holeMm = fixings[0]?.diameterMm ?? 0;
  const room = b.baseWidthMm - 2 * Math.max(1.5 * holeMm, holeMm / 2 + 4);
  const apart = round(Math.max(3 * holeMm, Math.min(room, b.baseWidthMm * 0.6)));
  const beside = (...settings: BracketSetting[]): Change => ({
    label: 'Set two fixings side by side in place of the one',
    effort: 2.5,
    settings,
  });
  if (b.fixings) {
    const [one] = b.fixings;
    if (!one || b.fixings.length > 1) return [];
    const pair = [
      { ...one, acrossMm: one.acrossMm - apart / 2 },
      { ...one, id: `${one.id}-2`, acrossMm: one.acrossMm + apart / 2 },
    ];
    return [beside({ path: ['fixings'], value: pair })];
  }
  if (!b.baseHole) return [];
  const { across = 2, rows = 1 } = b.baseHole;
  const changes: Change[] = [];
  if (across < 2)
    changes.push(
      beside({ path: ['baseHole', 'across'], value: across + 1 }, { path: ['baseHole', 'spacingMm'], value: apart }),
    );
  if (rows < 2)
    changes.push({
      label: 'Add a second row of fixings',
      effort: 3,
      settings: [
        { path: ['baseHole', 'rows'], value: rows + 1 },
        { path: ['baseHole', 'rowSpacingMm'], value: round(3 * holeMm) },
      ],
    });
  return changes;
};

/** Thread engaged longer, as far as two diameters. */
export const deeperThread: ChangesOf = (b, { bolts, seat }) => {
  if (!bolts) return [];
  const next = Math.min(seat?.thicknessMm ?? 0, 2 * bolts.thread.diameterMm);
  if (!(next > (bolts.engagementMm ?? 0) + 0.1)) return [];
  const settings = attach(b, 'engagementMm', round(next));
  return [{ label: `Let ${round(next)} mm of thread carry`, effort: 1, settings }];
};

/** A gusset in the bend, or two beside the stud's nut; sized from the legs. */
const gussets: ChangesOf = (b) => {
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
};

/** A plate that spreads the load on the sheet it sits on. */
export const spreaders = ({ seat, baseLegMm, baseWidthMm }: Bracket, { seat: on }: StrengthModel) =>
  [1, 2, 4].flatMap((by, i) => {
    // behind wood a steel plate does it
    const least = on?.wood ? [3, 5, 8][i]! : by * (seat?.thicknessMm ?? Infinity);
    const thicknessMm = seat && STOCK_MM.find((s) => s >= least - 1e-9);
    if (thicknessMm === undefined) return [];
    const [lengthMm, widthMm] = [round(2 * (i + 1) * baseLegMm), round(2 * (i + 1) * baseWidthMm)];
    const sizes = `${lengthMm} × ${widthMm} × ${thicknessMm}`;
    return [
      {
        sizes,
        label: on?.wood
          ? `Put a backing plate of ${sizes} mm behind it`
          : `Put a spreader plate of ${sizes} mm under it`,
        effort: 2 + i,
        settings: [{ path: ['seat', 'spreader'], value: { thicknessMm, widthMm, lengthMm } }],
      },
    ];
  });

/** Longer or thicker wood screws, as far as the wood is thick; the holes grow along. */
export const betterScrews: ChangesOf = (b, { bolts, seat, spec }) => {
  const now = bolts?.woodScrew;
  if (!now || !seat) return [];
  const room = spec.thicknessMm + seat.thicknessMm - 1;
  const longest = SCREW_LENGTHS_MM.filter((mm) => mm <= room);
  const screw = (diameterMm: number, lengthMm: number): BracketSetting => ({
    path: ['attach', 'screw'],
    value: { diameterMm, lengthMm },
  });
  const holes = b.fixings?.map((_, k) => ['fixings', k, 'diameterMm']) ?? [['baseHole', 'diameterMm']];
  return [
    ...longest
      .filter((mm) => mm > now.lengthMm)
      .map((mm, i) => ({
        label: `Take screws ${now.diameterMm} × ${mm} mm`,
        effort: 1 + 0.1 * i,
        settings: [screw(now.diameterMm, mm)],
      })),
    ...[5, 6, 8, 10, 12]
      .filter((d) => d > now.diameterMm)
      .slice(0, 3)
      .map((d, i) => {
        const mm = Math.max(now.lengthMm, longest.at(-1) ?? 0);
        return {
          label: `Take screws ${d} × ${mm} mm`,
          effort: 2 + i,
          settings: [screw(d, mm), ...holes.map((path) => ({ path, value: d + 0.5 }))],
        };
      }),
  ];
};

/** Bolts through the wood in place of screws or inserts, with a backing plate. */
export const boltedThrough: ChangesOf = (b, m) =>
  m.seat?.wood && m.bolts && b.attach && m.bolts.into !== 'through'
    ? spreaders(b, m).map((plate) => ({
        label: `Bolt it through, with a backing plate of ${plate.sizes} mm`,
        effort: plate.effort + 1,
        settings: [{ path: ['attach', 'into'], value: 'through' }, ...plate.settings],
      }))
    : [];

const thickerThroat = (what: string, path: readonly string[], throatMm: number): Change[] =>
  [1.5, 2].map((by, i) => ({
    label: `Weld ${what} with a throat of ${round(by * throatMm)} mm`,
    effort: 1 + i,
    settings: [{ path, value: round(by * throatMm) }],
  }));

/** The same weld with a larger throat. */
export const thickerWeld: ChangesOf = (_, { weld }) =>
  weld ? thickerThroat('it', ['attach', 'weldThroatMm'], weld.throatMm) : [];

/** The gusset’s welds with a larger throat. */
export const thickerGussetWeld: ChangesOf = (_, { spec: { gusset } }) =>
  gusset ? thickerThroat('the gusset', ['gusset', 'weldThroatMm'], gusset.weldThroatMm) : [];

/** Gussets of thicker sheet, next gauges first. */
export const thickerGusset: ChangesOf = (_, { spec: { gusset } }) =>
  gusset
    ? STOCK_MM.filter((t) => t > gusset.thicknessMm + 1e-9)
        .slice(0, 5)
        .map((t, i) => ({
          label: `Make the gusset ${t} mm thick`,
          effort: 1.5 + i,
          settings: [{ path: ['gusset', 'thicknessMm'], value: t }],
        }))
    : [];

/** Every edge of the fixed leg welded, where only some are. */
export const allEdges: ChangesOf = (b) =>
  b.attach?.weldEdges && b.attach.weldEdges !== 'all'
    ? [{ label: 'Weld all edges', effort: 1, settings: [{ path: ['attach', 'weldEdges'], value: 'all' }] }]
    : [];

/** What may repair a leg or a plate. */
export const LEG_REPAIRS: readonly ChangesOf[] = [
  ...[ballInside, thicker, wider, gussets, lowerBall],
  pairs(wider, thicker, (w, t) => together(t, w)),
  pairs(gussets, thicker, (g, t) => together(t, g)),
];

/** What may repair the sheet a bracket sits on. */
export const SEAT_REPAIRS: readonly ChangesOf[] = [ballInside, spreaders, pairs(spreaders, lowerBall)];

/** The thread and strength of an insert and a rivet are their maker's; wood screws come in sizes of their own. */
const unlessInsert =
  (changes: ChangesOf): ChangesOf =>
  (b, m) =>
    ['insert', 'rivet', 'wood'].includes(m.bolts?.into ?? '') ? [] : changes(b, m);

/** What may repair the fixings, with more that is tried before or after them where both are as much work. */
export const fixingRepairs = (
  more: { readonly before?: readonly ChangesOf[]; readonly after?: readonly ChangesOf[] } = {},
): readonly ChangesOf[] => [
  ...(more.before ?? []),
  ...[unlessInsert(strongerFixings), unlessInsert(largerFixings), moreFixings],
  ...(more.after ?? []),
  pairs(moreFixings, largerFixings),
];
