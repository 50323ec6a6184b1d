import { lineMark, type Mark, type PathSegment, polygonMark, type Sheet, sidesOf } from '../drawing';
import { fail } from '../error';
import type { Strut } from '../job';
import { type Rad, distance, rad, toRad } from '../space';
import { poseAt } from '../travel';
import type { Workings } from '../workings';
import type { SheetOptions } from './bracket-sheet';
import { drillTemplate } from './drill-template';
import { endPlace } from './end-place';
import { figure, strutTitle } from './report-tables';
import { spreadOut } from './running';
import { textAt } from './text';
import { jobTitle, slimHeadOf } from './numbers';

/** Least width of the lath, what it reaches past its last mark and its hole, mm; a nail or an awl goes through the hole. */
const LEAST_WIDE_MM = 20;
const PAST_MM = 12;
const HOLE_MM = 3;
const TEXT_MM = 3.5;
const PITCH_MM = 5.5;
const HATCH_MM = 8;
/** Marks run this far out of the lath, towards their words; the words stand this much further. */
const OUT_MM = 3;
const WORDS_MM = 8;
const mm = (value: number): string => figure(value, 1);

interface BattenMark {
  readonly words: string;
  readonly atMm: number;
}

/** The places along a lath that stands in for a strut, mm from its hole. */
interface Batten {
  readonly marks: readonly BattenMark[];
  /** Between these the strut as chosen follows, its reserve kept. */
  readonly playMm: readonly [number, number];
  readonly widthMm: number;
}

function battenOf({ job, frame }: Pick<Workings, 'job' | 'frame'>, strut: Strut): Batten {
  const base = frame.points.get(strut.base)!;
  const lid = frame.points.get(strut.lid)!;
  const at = (deg: number): number => distance(base, poseAt(frame.axis, lid, toRad(deg) as Rad));
  const { extendedMm, strokeMm, tubeMm } = strut.spec;
  const { reserveMm } = job.limits;
  const open = frame.openDeg;
  return {
    marks: [
      { words: 'closed', atMm: at(0) },
      { words: `half open, ${mm(open / 2)}°`, atMm: at(open / 2) },
      { words: `open, ${mm(open)}°`, atMm: at(open) },
    ],
    // where the strut is the stop, it runs out to its end
    playMm: [extendedMm - strokeMm + reserveMm, extendedMm - (job.travel.stop === 'strut' ? 0 : reserveMm)],
    widthMm: Math.max(LEAST_WIDE_MM, tubeMm),
  };
}

/** A strip of the lath hatched from one height to another. */
function band(low: number, high: number, half: number): Mark[] {
  const [left, right] = [-half + 1.5, half - 1.5];
  const lines: Mark[] = [
    polygonMark('narrow', [
      [left, low],
      [right, low],
      [right, high],
      [left, high],
    ]),
  ];
  const rise = right - left;
  for (let y = low; y + rise <= high; y += HATCH_MM) lines.push(lineMark('narrow', [left, y], [right, y + rise]));
  return lines;
}

/**
 * The try-on batten of one strut at 1:1: a lath's outline with a hole at one end and, at the other, the marks closed, half open and open and the band in
 * which the chosen strut follows; over as many pages as it takes, its words on each. Lengths mm. Throws a LidwrightError where it takes too many pages.
 */
export function battenSheets(outcome: Pick<Workings, 'job' | 'frame'>, strut: Strut, options: SheetOptions): Sheet[] {
  const { job, frame } = outcome;
  const { marks, playMm, widthMm } = battenOf(outcome, strut);
  const [least, most] = playMm;
  if (most <= least)
    return fail(
      'the stroke leaves nothing between its reserves.',
      ['struts', job.struts.indexOf(strut), 'spec', 'strokeMm'],
      'Choose a strut with more stroke first.',
    );
  const half = widthMm / 2;
  const top = Math.max(most, ...marks.map((m) => m.atMm)) + PAST_MM;
  const outline: PathSegment[] = sidesOf([
    [-half, -PAST_MM],
    [half, -PAST_MM],
    [half, top],
    [-half, top],
  ]);
  const limits: BattenMark[] = [
    { words: 'band begins', atMm: least },
    { words: 'band ends', atMm: most },
  ];
  const all = [...marks, ...limits].sort((a, b) => a.atMm - b.atMm);
  const heights = spreadOut(
    all.map((m) => m.atMm),
    PITCH_MM,
    -1e5,
    1e5,
  )!;
  const beside: Mark[] = [
    ...band(least, most, half),
    ...all.flatMap(({ words, atMm }, i): Mark[] => [
      lineMark(limits.some((l) => l.words === words) ? 'narrow' : 'visible', [-half, atMm], [half, atMm]),
      lineMark('narrow', [half, atMm], [half + OUT_MM, atMm]),
      lineMark('narrow', [half + OUT_MM, atMm], [half + WORDS_MM, heights[i]!]),
      textAt([half + WORDS_MM + 1, heights[i]! - TEXT_MM / 2], `${words}: ${mm(atMm)}`, TEXT_MM),
    ]),
  ];
  const stands = (['base', 'lid'] as const).map((end) => {
    const height = endPlace(job, frame, strut, end, false).on?.heightMm ?? null;
    return height === null
      ? `${end} end: how high the ball stands is not known yet, hold the lath where it will be`
      : `${end} end: hold the lath ${mm(height)} off the surface`;
  });
  const outside = marks.filter((m) => m.atMm < least - 1e-6 || m.atMm > most + 1e-6);
  const papers = job.papers ?? {};
  const name = strutTitle(strut, job.struts.indexOf(strut), job.struts.length);
  return drillTemplate(
    {
      name: `Try-on batten: ${name}`,
      outline,
      holes: [{ id: 'pivot', centre: [0, 0], diameterMm: HOLE_MM, slotMm: 0, slotRad: rad(0) }],
      directions: [{ words: 'to the lid', direction: [0, 1] }],
      originWords: null,
      notes: [
        `Paste it on a straight lath about ${mm(widthMm)} wide and thick, as the strut’s tube. Hole over the base ball’s centre, on a nail. Lengths run between ball centres; ${stands.join('; ')}.`,
        'Prop the lid. Swing it slowly and follow the lid ball’s centre with the lath: closed, half open and open it must come to its mark, never leave the hatched band, and the lath must touch nothing.',
        ...(outside.length > 0
          ? [
              `As the job has it, ${outside.map((m) => m.words).join(' and ')} lies outside the band: this strut does not follow there.`,
            ]
          : []),
        'Where it comes to another place: read the length from the hole’s centre and type it into Prove as the strut’s length at that angle. It finds the pivot that is off, before anything is ordered.',
      ],
    },
    {
      ...slimHeadOf(job, `${strut.id}-B`, 'Try-on batten', options.date),
      title: `${name}: ${jobTitle(job)}`,
    },
    options.paper ?? papers.paper ?? 'A4',
    { upright: true, beside },
  );
}
