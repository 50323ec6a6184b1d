import {
  blankAreaMm2,
  blanks,
  type BracketSpec,
  bracketSpecOf,
  coarseThread,
  hardwareOf,
  isPinned,
  placedHoles,
  stockMm,
  studDepthMm,
  type ThreadName,
} from '../bracket';
import { boundsOf, formatNumber, type Sheet } from '../drawing';
import { attempt, describeIssue } from '../error';
import type { Bracket, EndName, ResolvedJob, Strut } from '../job';
import { fittingOf, footprintSize, thickMm, thicknessAt, type WedgeSpec } from '../joint';
import { DEFAULTS, PROPERTY_CLASSES, strengthModel } from '../strength';
import { usualBody } from '../strut';
import { cos, toRad } from '../space';
import type { SheetOptions } from './bracket-sheet';
import { CAUTIONS } from './cautions';
import { bracketAt, endWedge } from './end-wedge';
import { Flow } from './flow';
import { formatOf } from './formats';
import { fittingWords } from './report-tables';
import { assemblyPreloadN, boltLengthMm, boltLengthUpToMm, TIGHTENING_FRICTION, torqueNm } from './tightening';

/** One thing to buy. */
export interface ShoppingRow {
  readonly what: string;
  readonly quantity: number;
  readonly order: string;
  readonly remark: string;
}

/** Threads that stand out of a nut, in pitches; sheet cut round a blank, mm. Common practice, no source. */
const OUT_PITCHES = 2;
const CUT_MARGIN_MM = 5;
const mm = (value: number): string => formatNumber(value, 1);
const d = (thread: ThreadName): number => Number(thread.slice(1));

/** What the strut's two ends are screwed to, and whether the threads go together. */
function endRows(job: ResolvedJob, strut: Strut, end: EndName): ShoppingRow[] {
  const fitting = fittingOf(strut.ends[end].fitting);
  const usual = usualBody(strut.spec.rodMm, strut.spec.tubeMm).endThread;
  const bracket = bracketAt(job, strut, end);
  const stud = bracket?.stud?.thread;
  const own = fitting?.thread?.name;
  const faults = [
    ...(own && own !== usual
      ? [
          `its thread ${own} is not the ${usual} usual on a ${mm(strut.spec.rodMm)} mm rod: ask for a strut with ${own} ends, or take a fitting ${usual}`,
        ]
      : []),
    ...(stud && stud !== (own ?? usual) && !isPinnedOf(bracket)
      ? [
          `the bracket’s stud is ${stud}, sockets ${own ?? usual} go on studs ${own ?? usual}${own ? '' : ` (the thread usual on this strut, as the job names no size)`}: change one of them`,
        ]
      : []),
  ];
  // certain only where the job itself names both threads
  const heading = own && stud && stud !== own ? 'DOES NOT MATCH' : 'MAY NOT MATCH';
  return [
    {
      what: `End fitting, ${end} end`,
      quantity: strut.quantity,
      order: `${fittingWords(strut.ends[end].fitting)}${own ? '' : `, thread ${usual}`}`,
      remark:
        faults.length > 0
          ? `${heading}: ${faults.join('; ')}.`
          : own
            ? `thread ${own} on the strut and on the stud (DIN 71802 and alike, from dealers’ tables)`
            : `the job names no size: thread as the strut’s end, ${usual} usual on this rod`,
    },
  ];
}

const isPinnedOf = (bracket: Bracket): boolean => isPinned(bracketSpecOf(bracket));

/** Longest way of a fixing through bracket and wedge, mm. */
function throughMm(spec: BracketSpec, wedge: WedgeSpec | null): number {
  const own = Math.max(
    ...placedHoles(spec)
      .filter((h) => h.role === 'fixing')
      .map((h) => h.thicknessMm),
  );
  if (!wedge) return own;
  const slant = wedge.squareTo === 'face' ? cos(toRad(wedge.angleDeg)) : 1;
  return own + Math.max(...wedge.holes.map((h) => thicknessAt(wedge, h.xMm) * slant), 0);
}

function torqueWords(bracket: Bracket, strut: Strut, thread: ThreadName, grade: string): string {
  const row = PROPERTY_CLASSES.find((c) => c.name === grade && d(thread) > c.overMm && d(thread) <= c.upToMm);
  if (!row) return `class ${grade} is in no table here: torque by its maker`;
  const most = torqueNm(thread, assemblyPreloadN(thread, row.yieldMPa));
  const counted = attempt(() => strengthModel(bracket, strut)).value?.bolts?.preloadN ?? 0;
  const wanted =
    counted > 0
      ? `tighten to ${mm(torqueNm(thread, counted))} N·m (the ${formatNumber(counted / 1000, 1)} kN that the strength check counts on), `
      : '';
  return `${wanted}never over ${mm(most)} N·m (90 % of yield); VDI 2230-1, μ ${TIGHTENING_FRICTION}, lightly oiled${row.stainless ? ', with paste against seizing' : ''}`;
}

function fixingRows(job: ResolvedJob, strut: Strut, bracket: Bracket): ShoppingRow[] {
  const spec = bracketSpecOf(bracket);
  const each = spec.fixings.length;
  if (spec.attachedBy === 'weld' || each === 0) return [];
  const count = each * strut.quantity;
  const where = `for ${spec.name}`;
  const into = spec.into;
  const { attach, seat } = bracket;
  if (into === 'wood') {
    const screw = attach?.screw;
    return [
      {
        what: 'Wood or coach screws with washers',
        quantity: count,
        order: screw ? `⌀${mm(screw.diameterMm)} × ${mm(screw.lengthMm)}` : 'size not stated in the job',
        remark: where,
      },
    ];
  }
  if (into === 'rivet')
    return [
      {
        what: 'Blind rivets',
        quantity: count,
        order: `for holes ⌀${mm(Math.min(...spec.fixings.map((f) => f.diameterMm)))}, grip as bracket and mount together`,
        remark: where,
      },
    ];
  const thread = attach?.thread ?? spec.fixingThread;
  if (!thread) return [{ what: 'Screws', quantity: count, order: 'no thread goes through the holes', remark: where }];
  const grade = attach?.propertyClass ?? DEFAULTS.boltClass;
  const guessed = [
    ...(attach?.thread ? [] : [`thread not stated: ${thread} is the largest that goes through`]),
    ...(attach?.propertyClass ? [] : [`class ${grade} assumed`]),
  ];
  const note = (text: string): string => [`${where}: ${text}`, ...guessed].join('; ');
  const hw = hardwareOf(thread);
  const washer = hw.washerThicknessMm;
  const own = throughMm(spec, endWedge(job, strut, bracket.end));
  const torque = torqueWords(bracket, strut, thread, grade);
  const name = (length: number | undefined): string => `${thread} × ${length ?? '?'}, class ${grade}`;
  if (into === 'through') {
    const seatMm = seat ? seat.thicknessMm + (seat.spreader?.thicknessMm ?? 0) : null;
    const gripMm = own + (seatMm ?? 0) + 2 * washer;
    const least = gripMm + hw.nutHeightMm + OUT_PITCHES * coarseThread(thread).pitchMm;
    const length = seatMm === null ? undefined : boltLengthMm(least);
    return [
      {
        what: 'Hexagon bolts',
        quantity: count,
        order: name(length),
        remark: note(
          seatMm === null
            ? `grip ${mm(gripMm)} and the mount’s thickness, which the job does not state; length by it`
            : `grip ${mm(gripMm)} with both washers, at least ${mm(least)} long; ${torque}`,
        ),
      },
      {
        what: 'Nuts, self-locking or with a lock washer',
        quantity: count,
        order: `${thread}, class ${grade.startsWith('A') ? grade : grade.split('.')[0]}`,
        remark: where,
      },
      {
        what: 'Washers',
        quantity: 2 * count,
        order: `for ${thread}, ⌀${mm(hw.washerDiameterMm)} × ${mm(washer)} (ISO 7089)`,
        remark: where,
      },
    ];
  }
  const depth = attach?.engagementMm ?? seat?.thicknessMm ?? null;
  const length = depth === null ? undefined : boltLengthUpToMm(own + washer + depth);
  const engaged = length === undefined ? null : length - own - washer;
  return [
    {
      what: into === 'insert' ? 'Hexagon screws for inserts' : 'Hexagon screws for tapped holes',
      quantity: count,
      order: name(length),
      remark: note(
        engaged === null
          ? `through ${mm(own + washer)} with its washer, and the thread’s depth, which the job does not state`
          : `${mm(engaged)} of thread carry${engaged < 0.8 * d(thread) ? ', LESS than 0.8 diameters: deepen the thread' : ''}; ${into === 'insert' ? 'torque by the insert’s maker' : torque}`,
      ),
    },
    {
      what: 'Washers',
      quantity: count,
      order: `for ${thread}, ⌀${mm(hw.washerDiameterMm)} × ${mm(washer)} (ISO 7089)`,
      remark: where,
    },
    ...(into === 'insert' ? [{ what: 'Inserts or rivet nuts', quantity: count, order: thread, remark: where }] : []),
  ];
}

function studRows(strut: Strut, bracket: Bracket): ShoppingRow[] {
  const spec = bracketSpecOf(bracket);
  const thread = bracket.stud?.thread;
  const grade = bracket.stud?.propertyClass ?? DEFAULTS.studClass;
  const assumed = bracket.stud?.propertyClass ? '' : `; class ${grade} assumed`;
  if (spec.bought) return [];
  if (isPinned(spec))
    return [
      {
        what: 'Pin with its retainers',
        quantity: strut.quantity,
        order: `for ⌀${mm(spec.studHole.diameterMm)}, at least ${mm(spec.baseLegMm + d(spec.studThread ?? 'M6'))} long`,
        remark: `for ${spec.name}`,
      },
    ];
  if (!thread)
    return [
      {
        what: 'Ball stud',
        quantity: strut.quantity,
        order: `to fit a hole ⌀${mm(spec.studHole.diameterMm)}`,
        remark: `for ${spec.name}: thread not stated in the job`,
      },
    ];
  const hw = hardwareOf(thread);
  const tapped = d(thread) > spec.studHole.diameterMm + 1e-6;
  const least = tapped
    ? studDepthMm(spec)
    : studDepthMm(spec) + hw.washerThicknessMm + hw.nutHeightMm + OUT_PITCHES * coarseThread(thread).pitchMm;
  return [
    {
      what: 'Ball studs',
      quantity: strut.quantity,
      order: `${thread}, class ${grade}, threaded end at least ${mm(least)}`,
      remark: `for ${spec.name}${assumed}`,
    },
    ...(tapped
      ? []
      : [
          {
            what: 'Nut and washer for the stud',
            quantity: strut.quantity,
            order: `${thread}`,
            remark: `for ${spec.name}`,
          },
        ]),
  ];
}

function stockRows(job: ResolvedJob, strut: Strut, bracket: Bracket): ShoppingRow[] {
  const spec = bracketSpecOf(bracket);
  if (spec.bought)
    return [
      { what: 'Ready-made bracket', quantity: strut.quantity, order: spec.name, remark: 'hold it against its drawing' },
    ];
  const kg = (value: number): string => `${formatNumber(value, 2)} kg`;
  const rows = blanks(spec).map((blank): ShoppingRow => {
    const box = boundsOf([{ kind: 'path', role: 'visible', closed: true, segments: blank.outline }]);
    const [wide, long] = [box.right - box.left + 2 * CUT_MARGIN_MM, box.top - box.bottom + 2 * CUT_MARGIN_MM];
    const stock = stockMm(blank);
    return {
      what: blank.lean ? 'Plate or block' : 'Sheet',
      quantity: blank.quantity * strut.quantity,
      order: `${spec.material.name}, ${mm(stock)} × ${Math.ceil(wide)} × ${Math.ceil(long)}`,
      remark: `${blank.name}: ${CUT_MARGIN_MM} mm more all round; each ${kg(wide * long * stock * spec.material.densityKgM3 * 1e-9)} as bought${blank.lean ? '' : `, ${kg(blankAreaMm2(blank) * stock * spec.material.densityKgM3 * 1e-9)} cut`}${bracket.finish ? `; finish: ${bracket.finish}` : ''}`,
    };
  });
  const wedge = endWedge(job, strut, bracket.end);
  if (wedge) {
    const { lengthMm, widthMm } = footprintSize(wedge);
    rows.push({
      what: 'Block for the wedge',
      quantity: strut.quantity,
      order: `${wedge.material.name}, ${Math.ceil(thickMm(wedge))} × ${Math.ceil(lengthMm)} × ${Math.ceil(widthMm)}`,
      remark: wedge.name,
    });
  }
  return rows;
}

/** Everything to buy for a job, in the order one would ask for it; a bracket that can't be made is said to be so. */
export function shoppingRows(job: ResolvedJob): ShoppingRow[] {
  return job.struts.flatMap((strut) => {
    const { spec } = strut;
    const brackets = job.brackets.filter((b) => b.strut === strut.id);
    return [
      {
        what: `Gas spring ${strut.name ?? strut.id}`,
        quantity: strut.quantity,
        order: `${mm(spec.extendedMm)} long, ${mm(spec.strokeMm)} stroke, rod ${mm(spec.rodMm)}, tube ${mm(spec.tubeMm)}, ${formatNumber(spec.forceN, 0)} N`,
        remark: 'as its purchase sheet says, all of it',
      },
      ...(['base', 'lid'] as const).flatMap((end) => endRows(job, strut, end)),
      ...brackets.flatMap((bracket) => {
        const { value, error } = attempt(() => [
          ...studRows(strut, bracket),
          ...fixingRows(job, strut, bracket),
          ...stockRows(job, strut, bracket),
        ]);
        return (
          value ?? [
            {
              what: `Bracket ${bracket.name ?? bracket.id}`,
              quantity: strut.quantity,
              order: 'nothing yet: it can’t be made as drawn',
              remark: error!.issues.map(describeIssue).join(' '),
            },
          ]
        );
      }),
    ];
  });
}

/** The list as a table to be written as separated values, its heading first. */
export const shoppingTable = (job: ResolvedJob): string[][] => [
  ['No.', 'What', 'Quantity', 'Order', 'Remark'],
  ...shoppingRows(job).map((r, i) => [`${i + 1}`, r.what, `${r.quantity}`, r.order, r.remark]),
];

/** The shopping list as sheets; first of all what stands `against` ordering. */
export function shoppingList(job: ResolvedJob, options: SheetOptions & { readonly against?: string }): Sheet[] {
  const papers = job.papers ?? {};
  const flow = new Flow(
    {
      title: job.title === '' ? 'Lid and strut' : job.title,
      documentType: 'Shopping list',
      number: papers.number ? `${papers.number}-S` : 'S',
      date: options.date,
      creator: papers.creator ?? '',
    },
    formatOf(options.paper ?? papers.paper ?? 'A4'),
  );
  if (options.against !== undefined)
    flow.text([`NOT READY TO ORDER when this was written. ${options.against}: see the report.`]);
  const [, ...rows] = shoppingTable(job);
  flow.table({ 'No.': 9, What: 32, Qty: 9, Order: 47, Remark: 61 }, rows);
  flow.text([
    'Bolt lengths: grip, nut and two threads out of it, to the next length sold (ISO 888, not checked against its text). A torque is for that thread, class and friction alone; a softer mount, an insert or wood takes less: its maker’s figure comes first.',
    ...CAUTIONS,
  ]);
  return flow.sheets();
}
