import { assemblyDrawing } from './assembly-drawing';
import { verdict } from '../findings';
import { type Blank, blanks, bracketMesh, stockMm } from '../bracket';
import { formatNumber, type Sheet } from '../drawing';
import { attempt } from '../error';
import { playNow, playWords } from '../find';
import type { Bracket, EndName, Path, ResolvedJob, Strut } from '../job';
import { type WedgeSpec, wedgeMesh } from '../joint';
import type { Workings } from '../workings';
import { battenSheets } from './batten';
import { bracketSheets, type SheetOptions } from './bracket-sheet';
import { bracketTemplate, templateFromBehind, templateOfTwin, wedgeTemplate } from './bracket-template';
import { cuttingSheet } from './cutting-sheet';
import { drillTemplate } from './drill-template';
import { endWedge, wedgeHands } from './end-wedge';
import { fitUpChecklist } from './fit-up-checklist';
import { handsOf, paired } from './hands';
import type { PaperFormatName } from './kinds';
import { surveySketch } from './survey-sketch';
import { type Paper, type Planned, named } from './paper';
import { layoutDrawing, type LayoutOptions } from './layout-drawing';
import { placeSheets } from './place-sheet';
import { purchaseSheet } from './purchase-sheet';
import { report } from './report';
import { strengthPart } from './report-strength';
import { shoppingList, shoppingTable } from './shopping-list';
import type { TemplateSpec } from './template-art';
import { wedgeDrawing } from './wedge-drawing';
import { drawingInfo, revisedNumber, slimHeadOf } from './numbers';

export interface PaperOptions extends SheetOptions {
  /** Name and version of the program, for the report. */
  readonly program: string;
  readonly datum?: LayoutOptions['datum'];
}

const ALL: readonly PaperFormatName[] = ['pdf', 'svg', 'dxf'];
const READ: readonly PaperFormatName[] = ['pdf', 'svg'];
const SOLID: readonly PaperFormatName[] = ['stl', '3mf'];

/** Runs with error paths that lead into the job. */
function within<T>(path: Path, make: () => T): T {
  const { value, error } = attempt(make);
  if (error) throw error.within(...path);
  return value;
}

const forJob = (job: ResolvedJob, name: string): string => (job.title === '' ? name : `${name}: ${job.title}`);

/** The template's pages for a job, its header filled from the job's papers. */
export function templateSheets(job: ResolvedJob, template: TemplateSpec, id: string, options: SheetOptions): Sheet[] {
  return drillTemplate(
    template,
    {
      ...slimHeadOf(job, `${id}-T`, 'Drill template', options.date),
      title: forJob(job, template.name),
    },
    options.paper ?? job.papers?.paper ?? 'A4',
  );
}

/** The drawing of a wedge, its title block filled from the job's papers. Throws a LidwrightError when it can't be drawn. */
export function wedgeSheet(job: ResolvedJob, wedge: WedgeSpec, options: SheetOptions, quantity: number): Sheet {
  const papers = job.papers ?? {};
  return wedgeDrawing(
    wedge,
    {
      ...drawingInfo(job, wedge.id, options.date),
      title: wedge.name,
      notes: [
        'Which way the thick end points, and how high the ball then stands: see the place sheet.',
        ...(job.title === '' ? [] : [`For: ${job.title}`.slice(0, 120)]),
      ],
    },
    {
      paper: options.paper ?? papers.paper ?? 'A4',
      projection: options.projection ?? papers.projection ?? 'first',
      quantity,
    },
  );
}

/** The cutting sheets of a bracket: one for each hand and thickness of stock, as a shop nests them. */
function cuttingSheets(job: ResolvedJob, bracket: Bracket, name: string): Sheet[] {
  const hands = handsOf(job, bracket);
  return hands.flatMap(({ spec, quantity, side }) => {
    const byStock = new Map<number, Blank[]>();
    for (const blank of blanks(spec)) {
      const stock = stockMm(blank);
      byStock.set(stock, [...(byStock.get(stock) ?? []), blank]);
    }
    const hand = hands.length > 1 ? `${side} side` : '';
    const words = { material: spec.material.name, quantity, hand, finish: bracket.finish };
    return [...byStock].map(([stock, group]): Sheet => {
      const t = `t${formatNumber(stock, 2)}`;
      const title = `${revisedNumber(job, bracket.id)} ${name} cutting ${t}${hand === '' ? '' : `, ${hand}`}`;
      return { ...cuttingSheet(title, group, words), fileTail: hands.length > 1 ? `${side}-${t}` : t };
    });
  });
}

const END_WORDS: Readonly<Record<EndName, string>> = { base: 'base end', lid: 'lid end' };

function bracketPapers(job: ResolvedJob, bracket: Bracket, at: number, options: SheetOptions): Planned[] {
  const name = bracket.name ?? bracket.id;
  const path: Path = ['brackets', at];
  const strut = job.struts.find((each) => each.id === bracket.strut);
  const wedge = strut ? endWedge(job, strut, bracket.end) : null;
  const draw = (make: () => readonly Sheet[]) => () => within(path, make);
  const template = (): TemplateSpec => {
    const spec = bracketTemplate(job, bracket);
    // on a wedge the screws meet the mount elsewhere than they leave the bracket
    const leans = 'This end leans: with a wedge under the bracket, drill by the wedge’s own template instead.';
    return wedge ? { ...spec, notes: [...spec.notes, leans] } : spec;
  };
  const sheets = (make: () => TemplateSpec, tail: string) =>
    draw(() => templateSheets(job, make(), `${bracket.id}${tail}`, options));
  const bolted = bracket.fixings !== undefined || bracket.baseHole !== undefined;
  const through = (bracket.attach?.into ?? 'through') === 'through';
  const papers: Planned[] = [
    {
      id: `bracket-${bracket.id}`,
      kind: 'bracket',
      title: bracket.bought ? `To look for: ${name}` : `Drawing: ${name}`,
      formats: bracket.bought ? ALL : [...ALL, ...SOLID],
      solid: (page) => bracketMesh(handsOf(job, bracket)[page]!.spec),
      draw: draw(() => bracketSheets(job, bracket, options)),
    },
  ];
  if (!bracket.bought)
    papers.push({
      id: `cutting-${bracket.id}`,
      kind: 'cutting',
      title: `To cut: ${name}`,
      formats: ['dxf', 'svg', 'pdf'],
      draw: draw(() => cuttingSheets(job, bracket, name)),
    });
  if (bolted) {
    papers.push({
      id: `template-${bracket.id}`,
      kind: 'template',
      title: `Drill template: ${name}`,
      formats: ALL,
      draw: sheets(template, ''),
    });
    if (through)
      papers.push({
        id: `template-${bracket.id}-behind`,
        kind: 'template',
        title: `Drill template from behind: ${name}`,
        formats: ALL,
        draw: sheets(() => templateFromBehind(template()), '-behind'),
      });
    if (paired(job, bracket))
      papers.push({
        id: `template-${bracket.id}-twin`,
        kind: 'template',
        title: `Drill template, mirrored one: ${name}`,
        formats: ALL,
        draw: sheets(() => templateOfTwin(template(), job), '-twin'),
      });
  }
  const both = paired(job, bracket);
  const hands = wedge === null ? [] : both ? wedgeHands(wedge) : [wedge];
  for (const hand of hands) {
    const [drawing, drill] = plannedOfWedge(job, hand, options, both && hands.length === 1 ? 2 : 1);
    const which = hand === wedge ? '' : ', mirrored one';
    papers.push(
      { ...drawing, title: `Wedge: ${name}, ${END_WORDS[bracket.end]}${which}`, draw: draw(drawing.draw) },
      { ...drill, title: `Drill template: wedge under ${name}${which}`, draw: draw(drill.draw) },
    );
  }
  return papers;
}

/** The drawing and the drill template of a wedge. */
const plannedOfWedge = (
  job: ResolvedJob,
  wedge: WedgeSpec,
  options: SheetOptions,
  quantity: number,
): [Planned, Planned] => [
  {
    id: wedge.id,
    kind: 'wedge',
    title: wedge.name,
    formats: [...ALL, ...SOLID],
    draw: () => [wedgeSheet(job, wedge, options, quantity)],
    solid: () => wedgeMesh(wedge),
  },
  {
    id: `template-${wedge.id}`,
    kind: 'template',
    title: `Drill template: ${wedge.name}`,
    formats: ALL,
    draw: () => templateSheets(job, wedgeTemplate(wedge), wedge.id, options),
  },
];

/** The papers of a wedge that no bracket of the job asks for: its drawing and its drill template. */
export const wedgePapers = (
  job: ResolvedJob,
  wedge: WedgeSpec,
  options: SheetOptions,
  quantity = 1,
): [drawing: Paper, drill: Paper] => named(job, plannedOfWedge(job, wedge, options, quantity)) as [Paper, Paper];

/** Why nothing should be bought yet: it goes where somebody reads it who has seen no screen. */
function againstOrdering(outcome: Workings | null): { readonly against?: string } {
  if (!outcome) return { against: 'The job can’t be worked out' };
  const { state, words } = verdict(outcome.findings);
  return state === 'holds' ? {} : { against: words };
}

/** How far the balls of a fitted strut may be off their marks; nothing where something fails, or the job's own text is not at hand. */
function playOf(outcome: Workings, { id }: Strut): { readonly play?: string } {
  const play = outcome.raw && attempt(() => playNow(outcome.raw!, id, outcome)).value;
  return play ? { play: playWords(play) } : {};
}

/**
 * Every paper of a job, each drawn only when asked for. Without an outcome (the job cannot be worked out) those that need one
 * are left out. A new kind of paper is added here and nowhere else.
 */
export function papersOf(job: ResolvedJob, outcome: Workings | null, options: PaperOptions): Paper[] {
  const papers = job.brackets.flatMap((bracket, i) => bracketPapers(job, bracket, i, options));
  job.struts.forEach((strut, i) => {
    papers.push({
      id: `purchase-${strut.id}`,
      kind: 'purchase',
      title: `To order: ${strut.name ?? (job.struts.length > 1 ? `strut ${i + 1}` : 'the strut')}`,
      formats: READ,
      draw: () => [purchaseSheet(job, strut.id, { ...options, ...againstOrdering(outcome) })],
    });
  });
  papers.push(
    {
      id: 'sketch',
      kind: 'sketch',
      title: 'Measuring sketch',
      formats: READ,
      draw: () => surveySketch(job, options),
    },
    {
      id: 'shopping',
      kind: 'shopping',
      title: 'Shopping list',
      formats: [...READ, 'csv'],
      rows: () => shoppingTable(job),
      draw: () => shoppingList(job, { ...options, ...againstOrdering(outcome) }),
    },
  );
  if (!outcome) return named(job, papers);
  return named(job, [
    ...papers,
    ...job.struts.map((strut, i): Planned => ({
      id: `place-${strut.id}`,
      kind: 'place',
      title: `Place sheet: ${strut.name ?? (job.struts.length > 1 ? `strut ${i + 1}` : 'both ends')}`,
      formats: ALL,
      draw: () => placeSheets(outcome, strut, { ...options, ...againstOrdering(outcome), ...playOf(outcome, strut) }),
    })),
    ...job.struts.map((strut, i): Planned => ({
      id: `batten-${strut.id}`,
      kind: 'batten',
      title: `Try-on batten: ${strut.name ?? (job.struts.length > 1 ? `strut ${i + 1}` : 'the strut')}`,
      formats: ALL,
      draw: () => battenSheets(outcome, strut, options),
    })),
    {
      id: 'layout',
      kind: 'layout',
      title: 'Layout drawing',
      formats: ALL,
      draw: () => layoutDrawing(outcome, options),
    },
    {
      id: 'assembly',
      kind: 'assembly',
      title: 'Assembly drawing',
      formats: ALL,
      draw: () => assemblyDrawing(outcome, options),
    },
    {
      id: 'report',
      kind: 'report',
      title: 'Report',
      formats: READ,
      draw: () =>
        report(outcome, {
          ...options,
          strength: strengthPart(outcome),
          plays: job.struts.map((strut) => playOf(outcome, strut).play ?? null),
        }),
    },
    {
      id: 'checklist',
      kind: 'checklist',
      title: 'Fit-up checklist',
      formats: READ,
      draw: () => fitUpChecklist(outcome, options),
    },
  ]);
}
