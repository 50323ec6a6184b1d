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
import { boundsOf, formatNumber } from '../drawing';
import { attempt, describeIssue } from '../error';
import { endThreads } from '../findings';
import type { Bracket, EndName, ResolvedJob, Strut } from '../job';
import { footprintSize, thickMm, thicknessAt, type WedgeSpec } from '../joint';
import { DEFAULTS, PROPERTY_CLASSES, strengthModel } from '../strength';
import { cos, toRad } from '../space';
import { endWedge } from './end-wedge';
import { handsOf } from './hands';
import { fittingWords } from './report-tables';
import { assemblyPreloadN, boltLengthMm, boltLengthUpToMm, TIGHTENING_FRICTION, torqueNm } from './tightening';

/** One thing to buy. */
export interface ShoppingRow {
  readonly what: string;
  readonly quantity: number;
  readonly order: string;
  readonly remark: string;
}

/** What a part is in the assembly; what a balloon points at goes by it. */
export type PartRole =
  | 'strut'
  | 'fitting'
  | 'stud'
  | 'stud-nut'
  | 'stud-washer'
  | 'pin'
  | 'screw'
  | 'nut'
  | 'washer'
  | 'insert'
  | 'bracket'
  | 'wedge'
  | 'mount';

/** One item of the assembly: as it is ordered, made, or found there. What of it is to be bought follows from this alone. */
export interface AssemblyPart extends ShoppingRow {
  readonly role: PartRole;
  readonly strut: string;
  /** Null: the strut itself. */
  readonly end: EndName | null;
  /** What to buy for it: itself, the stock it is made from, or nothing where it is there already. */
  readonly buy: readonly ShoppingRow[];
}

/** Threads that stand out of a nut, in pitches; sheet cut round a blank, mm. Common practice, no source. */
const OUT_PITCHES = 2;
const CUT_MARGIN_MM = 5;
const mm = (value: number): string => formatNumber(value, 1);
const d = (thread: ThreadName): number => Number(thread.slice(1));

/** What stands at one end of a strut, as parts. */
interface At {
  readonly job: ResolvedJob;
  readonly strut: Strut;
  readonly end: EndName;
}

const part = (
  { strut, end }: At,
  role: PartRole,
  row: ShoppingRow,
  buy: readonly ShoppingRow[] = [row],
): AssemblyPart => ({
  ...row,
  ...{ role, strut: strut.id, end, buy },
});

/** What one of the strut's ends is screwed to, and whether the threads go together. */
function fittingPart(at: At): AssemblyPart {
  const { job, strut, end } = at;
  const { rod, fitting, faults, sure } = endThreads(job, strut, end);
  return part(at, 'fitting', {
    what: `End fitting, ${end} end`,
    quantity: strut.quantity,
    order: `${fittingWords(strut.ends[end].fitting)}${fitting === null ? `, thread ${rod}` : ''}`,
    remark:
      faults.length > 0
        ? `${sure ? 'DOES NOT MATCH' : 'MAY NOT MATCH'}: ${faults.join('; ')}.`
        : fitting !== null
          ? `thread ${fitting} on the strut and on the stud (DIN 71802 and alike, from dealers’ tables)`
          : `the job names no size: thread as the strut’s end, ${rod} usual on this rod`,
  });
}

function washerWords(thread: ThreadName): string {
  const { washerDiameterMm, washerThicknessMm } = hardwareOf(thread);
  return `for ${thread}, ⌀${mm(washerDiameterMm)} × ${mm(washerThicknessMm)} (ISO 7089)`;
}

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

function fixingParts(at: At, bracket: Bracket): AssemblyPart[] {
  const { job, strut } = at;
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
      part(at, 'screw', {
        what: 'Wood or coach screws with washers',
        quantity: count,
        order: screw ? `⌀${mm(screw.diameterMm)} × ${mm(screw.lengthMm)}` : 'size not stated in the job',
        remark: where,
      }),
    ];
  }
  if (into === 'rivet')
    return [
      part(at, 'screw', {
        what: 'Blind rivets',
        quantity: count,
        order: `for holes ⌀${mm(Math.min(...spec.fixings.map((f) => f.diameterMm)))}, grip as bracket and mount together`,
        remark: where,
      }),
    ];
  const thread = attach?.thread ?? spec.fixingThread;
  if (!thread)
    return [
      part(at, 'screw', { what: 'Screws', quantity: count, order: 'no thread goes through the holes', remark: where }),
    ];
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
      part(at, 'screw', {
        what: 'Hexagon bolts',
        quantity: count,
        order: name(length),
        remark: note(
          seatMm === null
            ? `grip ${mm(gripMm)} and the mount’s thickness, which the job does not state; length by it`
            : `grip ${mm(gripMm)} with both washers, at least ${mm(least)} long; ${torque}`,
        ),
      }),
      part(at, 'nut', {
        what: 'Nuts, self-locking or with a lock washer',
        quantity: count,
        order: `${thread}, class ${grade.startsWith('A') ? grade : grade.split('.')[0]}`,
        remark: where,
      }),
      part(at, 'washer', {
        what: 'Washers',
        quantity: 2 * count,
        order: washerWords(thread),
        remark: where,
      }),
    ];
  }
  const depth = attach?.engagementMm ?? seat?.thicknessMm ?? null;
  const length = depth === null ? undefined : boltLengthUpToMm(own + washer + depth);
  const engaged = length === undefined ? null : length - own - washer;
  return [
    part(at, 'screw', {
      what: into === 'insert' ? 'Hexagon screws for inserts' : 'Hexagon screws for tapped holes',
      quantity: count,
      order: name(length),
      remark: note(
        engaged === null
          ? `through ${mm(own + washer)} with its washer, and the thread’s depth, which the job does not state`
          : `${mm(engaged)} of thread carry${engaged < 0.8 * d(thread) ? ', LESS than 0.8 diameters: deepen the thread' : ''}; ${into === 'insert' ? 'torque by the insert’s maker' : torque}`,
      ),
    }),
    part(at, 'washer', {
      what: 'Washers',
      quantity: count,
      order: washerWords(thread),
      remark: where,
    }),
    ...(into === 'insert'
      ? [part(at, 'insert', { what: 'Inserts or rivet nuts', quantity: count, order: thread, remark: where })]
      : []),
  ];
}

function studParts(at: At, bracket: Bracket): AssemblyPart[] {
  const { strut } = at;
  const spec = bracketSpecOf(bracket);
  const thread = bracket.stud?.thread;
  const grade = bracket.stud?.propertyClass ?? DEFAULTS.studClass;
  const assumed = bracket.stud?.propertyClass ? '' : `; class ${grade} assumed`;
  if (spec.bought) return [];
  if (isPinned(spec))
    return [
      part(at, 'pin', {
        what: 'Pin with its retainers',
        quantity: strut.quantity,
        order: `for ⌀${mm(spec.studHole.diameterMm)}, at least ${mm(spec.baseLegMm + d(spec.studThread ?? 'M6'))} long`,
        remark: `for ${spec.name}`,
      }),
    ];
  if (!thread)
    return [
      part(at, 'stud', {
        what: 'Ball stud',
        quantity: strut.quantity,
        order: `to fit a hole ⌀${mm(spec.studHole.diameterMm)}`,
        remark: `for ${spec.name}: thread not stated in the job`,
      }),
    ];
  const hw = hardwareOf(thread);
  const tapped = d(thread) > spec.studHole.diameterMm + 1e-6;
  const least = tapped
    ? studDepthMm(spec)
    : studDepthMm(spec) + hw.washerThicknessMm + hw.nutHeightMm + OUT_PITCHES * coarseThread(thread).pitchMm;
  return [
    part(at, 'stud', {
      what: 'Ball studs',
      quantity: strut.quantity,
      order: `${thread}, class ${grade}, threaded end at least ${mm(least)}`,
      remark: `for ${spec.name}${assumed}`,
    }),
    ...(tapped
      ? []
      : [
          part(at, 'stud-nut', {
            what: 'Nut for the stud, self-locking',
            quantity: strut.quantity,
            order: thread,
            remark: `for ${spec.name}`,
          }),
          part(at, 'stud-washer', {
            what: 'Washer for the stud',
            quantity: strut.quantity,
            order: washerWords(thread),
            remark: `for ${spec.name}`,
          }),
        ]),
  ];
}

/** A bracket and the stock it is cut from. */
function bracketPart(at: At, bracket: Bracket): AssemblyPart {
  const { job, strut } = at;
  const spec = bracketSpecOf(bracket);
  const { quantity } = strut;
  if (spec.bought)
    return part(at, 'bracket', {
      ...{ what: 'Ready-made bracket', quantity, order: spec.name },
      remark: 'hold it against its drawing',
    });
  const kg = (value: number): string => `${formatNumber(value, 2)} kg`;
  const stock = blanks(spec).map((blank): ShoppingRow => {
    const box = boundsOf([{ kind: 'path', role: 'visible', closed: true, segments: blank.outline }]);
    const [wide, long] = [box.right - box.left + 2 * CUT_MARGIN_MM, box.top - box.bottom + 2 * CUT_MARGIN_MM];
    const thick = stockMm(blank);
    return {
      what: blank.lean ? 'Plate or block' : 'Sheet',
      quantity: blank.quantity * quantity,
      order: `${spec.material.name}, ${mm(thick)} × ${Math.ceil(wide)} × ${Math.ceil(long)}`,
      remark: `${blank.name}: ${CUT_MARGIN_MM} mm more all round; each ${kg(wide * long * thick * spec.material.densityKgM3 * 1e-9)} as bought${blank.lean ? '' : `, ${kg(blankAreaMm2(blank) * thick * spec.material.densityKgM3 * 1e-9)} cut`}${bracket.finish ? `; finish: ${bracket.finish}` : ''}`,
    };
  });
  const hands = handsOf(job, bracket);
  return part(
    at,
    'bracket',
    {
      ...{ what: `Bracket: ${spec.name}`, quantity, order: `${spec.material.name}, to its drawing` },
      remark: hands.length > 1 ? hands.map((hand) => `${hand.quantity} ${hand.side}`).join(', ') : '',
    },
    stock,
  );
}

/** A wedge and the block it is cut from. */
function wedgePart(at: At, wedge: WedgeSpec): AssemblyPart {
  const { lengthMm, widthMm } = footprintSize(wedge);
  const { quantity } = at.strut;
  const block: ShoppingRow = {
    what: 'Block for the wedge',
    quantity,
    order: `${wedge.material.name}, ${Math.ceil(thickMm(wedge))} × ${Math.ceil(lengthMm)} × ${Math.ceil(widthMm)}`,
    remark: wedge.name,
  };
  const order = `${wedge.material.name}, ${mm(wedge.angleDeg)}°, to its drawing`;
  return part(at, 'wedge', { what: wedge.name, quantity, order, remark: '' }, [block]);
}

/** What the bracket is fastened to: there already. */
function mountPart(at: At, { seat }: Bracket): AssemblyPart {
  const where = at.end === 'base' ? 'the base' : 'the lid';
  return part(
    at,
    'mount',
    {
      what: `Mount, ${at.end} end`,
      quantity: at.strut.quantity,
      order: seat ? `${seat.material.name}, ${mm(seat.thicknessMm)} thick` : 'thickness not stated in the job',
      remark: `on ${where}, there already${seat?.spreader ? `, with a plate of ${mm(seat.spreader.thicknessMm)} behind it` : ''}`,
    },
    [],
  );
}

function bracketParts(at: At, bracket: Bracket): AssemblyPart[] {
  const { value, error } = attempt(() => [
    ...studParts(at, bracket),
    ...fixingParts(at, bracket),
    bracketPart(at, bracket),
  ]);
  if (value) return [...value, mountPart(at, bracket)];
  return [
    part(at, 'bracket', {
      what: `Bracket ${bracket.name ?? bracket.id}`,
      quantity: at.strut.quantity,
      order: 'nothing yet: it can’t be made as drawn',
      remark: error.issues.map(describeIssue).join(' '),
    }),
  ];
}

/**
 * Every part of a job's struts and what holds them, in the order in which one would ask for them: what balloons and parts list name, and what the
 * shopping list is made from. A bracket that can't be made is said to be so. Lengths mm, forces N.
 */
export const assemblyParts = (job: ResolvedJob): AssemblyPart[] =>
  job.struts.flatMap((strut) => {
    const { spec } = strut;
    const gasSpring: ShoppingRow = {
      what: `Gas spring: ${strut.name ?? strut.id}`,
      quantity: strut.quantity,
      order: `${mm(spec.extendedMm)} long, ${mm(spec.strokeMm)} stroke, rod ${mm(spec.rodMm)}, tube ${mm(spec.tubeMm)}, ${formatNumber(spec.forceN, 0)} N`,
      remark: 'as its purchase sheet says, all of it',
    };
    const ends = (['base', 'lid'] as const).map((end): At => ({ job, strut, end }));
    return [
      { ...gasSpring, role: 'strut' as const, strut: strut.id, end: null, buy: [gasSpring] },
      ...ends.map(fittingPart),
      ...ends.flatMap((at) => {
        const wedge = endWedge(job, strut, at.end);
        return [
          ...job.brackets
            .filter((b) => b.strut === strut.id && b.end === at.end)
            .flatMap((bracket) => bracketParts(at, bracket)),
          ...(wedge ? [wedgePart(at, wedge)] : []),
        ];
      }),
    ];
  });

/** Everything to buy for a job: each part itself, or the stock it is made from. */
export const shoppingRows = (job: ResolvedJob): ShoppingRow[] => assemblyParts(job).flatMap(({ buy }) => buy);
