import { geometryOf } from '../choose';
import { type Sheet, formatNumber } from '../drawing';
import { fail } from '../error';
import type { ResolvedJob, Strut } from '../job';
import { STANDARD_GRAVITY } from '../quantity';
import { gasBody, compressingN, extendingN, usualBody, RATING_MM } from '../strut';
import { lengthRange, makeFrame } from '../travel';
import type { SheetOptions } from './bracket-sheet';
import { paperFormats, sheetOf } from './formats';
import { sheetFrame } from './frame';
import { notesPart } from './notes';
import { fittingWords } from './report-tables';
import { STRUT_VIEW_HEIGHT_MM, strutView } from './strut-view';
import { type TableColumn, tablePart } from './table';
import { textAt } from './text';
import { NOTHING_MADE, titleBlock, titleBlockHeightMm } from './title-block';
import { drawingInfo } from './numbers';

const newtons = (n: number): string => `${formatNumber(Math.round(n), 0)} N`;
const mm = (n: number): string => `${formatNumber(n, 1)} mm`;
const signed = (n: number): string => (n < 0 ? `−${formatNumber(-n, 0)}` : `+${formatNumber(n, 0)}`);
const celsius = (c: number): string => `${c < 0 ? '−' : c > 0 ? '+' : ''}${formatNumber(Math.abs(c), 0)} °C`;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function orderRows(job: ResolvedJob, strut: Strut): string[][] {
  const { spec } = strut;
  const assumed = (key: 'ratio' | 'frictionN' | 'toleranceN'): string =>
    spec.assumed?.includes(key) ? 'assumed (common practice): ask for it' : '';
  const temps = job.loadCases.map((c) => c.tempC);
  const rodAt = strut.rodAt;
  return [
    [
      'Quantity',
      strut.quantity === 2 ? '2 (a pair, alike)' : '1',
      strut.quantity === 2 ? 'of one batch, so that both push alike' : '',
    ],
    ['Extended length', mm(spec.extendedMm), 'between the centres of the end fittings'],
    ['Stroke', mm(spec.strokeMm), `compressed ${mm(spec.extendedMm - spec.strokeMm)} between centres`],
    ['Rod / tube diameter', `${formatNumber(spec.rodMm, 1)} / ${formatNumber(spec.tubeMm, 1)} mm`, ''],
    [
      'Nominal force F1',
      newtons(spec.forceN),
      `extending, ${RATING_MM} mm from full extension, 20 °C. Tolerance ${signed(spec.toleranceN[0])} / ${signed(spec.toleranceN[1])} N${spec.assumed?.includes('toleranceN') ? ', assumed' : ''}`,
    ],
    ['Force ratio F2/F1', formatNumber(spec.ratio, 2), assumed('ratio')],
    ['Friction band, at most', newtons(spec.frictionN), assumed('frictionN') || 'pushing in less coming out'],
    ...(['base', 'lid'] as const).map((end) => [
      `End fitting, ${end} side`,
      capital(fittingWords(strut.ends[end].fitting)),
      `may lean ±${formatNumber(strut.ends[end].rangeDeg, 1)}°; thread usual for this rod: ${usualBody(spec.rodMm, spec.tubeMm).endThread}`,
    ]),
    [
      'Temperature range',
      `${celsius(Math.min(...temps))} to ${celsius(Math.max(...temps))}`,
      'of the load cases it was chosen in',
    ],
    ['Fitted with', rodAt === undefined ? 'rod down when closed' : `rod to the ${rodAt}`, 'oil on the seal'],
  ];
}

function checkRows(job: ResolvedJob, strut: Strut): string[][] {
  const { spec } = strut;
  const g = geometryOf(job, strut.id);
  const low = gasBody(spec, 'low');
  const high = gasBody(spec, 'high');
  const out = (body: typeof low): number => extendingN(body, RATING_MM, 20);
  const inn = (body: typeof low): number => compressingN(body, RATING_MM, 20);
  const kgf = (n: number): string => formatNumber(n / STANDARD_GRAVITY, 1);
  const per10 =
    extendingN(gasBody(spec, 'nominal'), RATING_MM, 30) - extendingN(gasBody(spec, 'nominal'), RATING_MM, 20);
  const { shortestMm, longestMm } = lengthRange(g.law, makeFrame(job).openDeg);
  const isStop = job.travel.stop === 'strut';
  return [
    [
      'Extended length',
      mm(spec.extendedMm),
      '',
      isStop
        ? 'it stops the lid: a shorter one opens less far'
        : `no less than ${mm(longestMm)}: the longest it gets on this lid`,
    ],
    [
      'Compressed length',
      `${mm(spec.extendedMm - spec.strokeMm)} or less`,
      '',
      `no more than ${mm(shortestMm)}: the shortest it gets on this lid`,
    ],
    [
      'Rod and tube',
      `${formatNumber(spec.rodMm, 1)} / ${formatNumber(spec.tubeMm, 1)} mm`,
      '',
      'rod bright, no dents, no oil on it',
    ],
    [
      `Force out, ${RATING_MM} mm in`,
      `${newtons(out(low))} to ${newtons(out(high))}`,
      '',
      `on a scale at 20 °C, let out slowly: ${kgf(out(low))} to ${kgf(out(high))} kgf. Each 10 K warmer adds ${newtons(per10)}`,
    ],
    [
      `Force in, ${RATING_MM} mm in`,
      `${newtons(inn(low))} to ${newtons(inn(high))}`,
      '',
      `pushed in slowly: ${kgf(inn(low))} to ${kgf(inn(high))} kgf`,
    ],
  ];
}

const CAUTIONS = [
  'A gas spring is under high pressure for life: never open, heat, drill, weld or grip it by the rod. Dispose of it as its maker says.',
  'Press it on a scale only upright, rod down, guided so that it cannot slip, and stand beside it, not over it.',
  'Keep a prop under the lid until the strut is proven. Never work under a lid that a strut alone holds.',
  "On a vehicle or vessel, at work or on a machine: local rules and a licensed person's judgement apply.",
];

/**
 * The purchase sheet of one strut of a job, A4: what to order in trade terms, a picture with the lengths, what to check on
 * delivery with room to write, and cautions; first of all what stands `against` ordering it. Throws a LidwrightError when there is no such strut or the sheet can't hold
 * the texts.
 */
export function purchaseSheet(
  job: ResolvedJob,
  strutId: string,
  options: Omit<SheetOptions, 'paper' | 'projection'> & { readonly against?: string },
): Sheet {
  const strut = job.struts.find((s) => s.id === strutId);
  if (!strut) return fail(`there is no strut "${strutId}"`, ['struts'], 'Choose one of the job’s.');
  const format = paperFormats.A4;
  const { space } = format;
  const left = space.left + 6;
  const width = space.right - space.left - 12;
  const which = job.struts.length > 1 ? ` ${strut.name ?? strut.id}` : '';
  const title = `Gas spring${which}${job.title === '' ? '' : `: ${job.title}`}`.slice(0, 100);
  const parts = [sheetFrame(format)];
  let y = space.top - 9;
  const table = (name: string, heading: string, columns: readonly TableColumn[], rows: readonly string[][]): void => {
    parts.push({ name: `heading ${heading}`, marks: [textAt([left, y], heading, 3.5)] });
    y -= 2.4;
    const { part, heightMm } = tablePart(name, columns, rows, [left, y]);
    parts.push(part);
    y -= heightMm;
  };
  table(
    'order',
    'To order',
    [
      { heading: 'What', widthMm: 40 },
      { heading: 'Order', widthMm: 54, large: true },
      { heading: 'Remark', widthMm: width - 94 },
    ],
    orderRows(job, strut),
  );
  y -= 1;
  parts.push(strutView(strut.spec, [left, y], width));
  y -= STRUT_VIEW_HEIGHT_MM;
  table(
    'check',
    'To check on delivery',
    [
      { heading: 'What', widthMm: 44 },
      { heading: 'Should be', widthMm: 42, large: true },
      { heading: 'Measured', widthMm: 24 },
      { heading: 'Remark', widthMm: width - 110 },
    ],
    checkRows(job, strut),
  );
  y -= 3;
  const assumed = (strut.spec.assumed ?? []).length > 0;
  const notes = notesPart(
    [
      ...(options.against === undefined
        ? []
        : [`NOT READY TO ORDER when this was drawn. ${options.against}: see the report.`]),
      ...(assumed
        ? ['What is marked assumed is common practice, not a promise: ask the supplier before you order.']
        : []),
      ...CAUTIONS,
    ],
    [left, y],
    width,
  );
  parts.push(notes.part);
  y -= notes.heightMm;
  if (y < space.bottom + titleBlockHeightMm(format) + 1)
    return fail('the purchase sheet does not fit on A4', ['title'], 'Shorten the names of fittings and struts.');
  const info = { ...drawingInfo(job, strut.id, options.date), title };
  const part = {
    documentType: 'Purchase sheet',
    ...NOTHING_MADE,
    scale: 'none',
    projection: job.papers?.projection ?? ('first' as const),
  };
  parts.push(titleBlock(info, part, format));
  return sheetOf(format, { number: info.number, title }, parts);
}
