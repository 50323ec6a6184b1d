import type { Face } from '../../core/bracket';
import { createStore } from 'zustand/vanilla';
import { attempt, type Issue } from '../../core/error';
import type { Finding } from '../../core/findings';
import {
  type History,
  type Job,
  type Members,
  type ResolvedJob,
  beginGesture,
  cancelGesture,
  commit,
  endGesture,
  moveGesture,
  redo,
  resolveJob,
  startHistory,
  undo,
  withoutTouched,
} from '../../core/job';
import { METRIC, type ShownUnits, formatQuantity } from '../../core/quantity';
import { type MovedPoint, type RelationQuestion, movedText } from '../../core/survey';
import type { AssumedSpread, CaseBands, ForceGradient, Needs } from '../../core/choose';
import type { Advice } from '../../core/advice';
import { type SlowAnswers, type Workings, workingsOf } from '../../core/workings';
import type { PhotoTool } from '../photo/tool';
import type { Wizard } from '../photo/wizard';
import { bracketStore } from './bracket-store';
import type { Plane, SheetView } from './planes';
import { type Notice, withNotice } from './notices';
import { type EditKept, keepRelations } from './relations-keep';

export const STAGES = ['measure', 'weigh', 'place', 'strut', 'joints', 'bracket', 'papers', 'prove'] as const;
export type Stage = (typeof STAGES)[number];
export type ViewName = Plane | 'space';
export type Selection = { readonly kind: 'point' | 'mass' | 'strut' | 'photo' | 'bracket'; readonly id: string } | null;
export type ChartKind = 'hand' | 'force' | 'length' | 'joint';

/** A drag under way: what moves, where it started, in which view it is held; or an edge or hole of a bracket in its own view. */
export type DragState =
  | ({ readonly plane: Plane; readonly from: readonly [number, number, number] } & (
      | { readonly kind: 'point'; readonly pointId: string }
      | {
          readonly kind: 'stem';
          readonly strut: string;
          readonly end: 'base' | 'lid';
          readonly what: 'azimuth' | 'tilt';
        }
    ))
  | { readonly kind: 'bracket'; readonly bracket: string; readonly handle: string; readonly face: Face };

/** Where the present job lies and what of it is saved. */
export interface FileState {
  readonly name: string;
  readonly token: string | null;
  /** The place beside which the job's photos lie: where it was opened from, wherever it is saved since. Null: an example's. */
  readonly photosFrom: string | null;
  /** The job as last read or written; the same object means nothing is unsaved. */
  readonly saved: Job | null;
  /** Names this document as long as it is open, and its drafts. */
  readonly draftId: string;
  /** SHA-256 of the file as last read or written; null or absent: not known. */
  readonly digest?: string | null;
  /** What else lay in the job's ZIP. */
  readonly others?: Members;
}

export interface BenchState {
  readonly history: History;
  readonly resolved: ResolvedJob;
  readonly outcome: Workings | null;
  /** What is found so far. */
  readonly findings: readonly Finding[];
  /** Checks that are still being worked out. */
  readonly pending: readonly string[];
  /** Why there is no outcome, or why the last entry was refused. */
  readonly trouble: readonly Issue[];
  readonly file: FileState;
  readonly angleDeg: number;
  readonly selection: Selection;
  readonly stage: Stage;
  /** Id of the paper chosen last in the Papers stage; empty: the first. */
  readonly paper: string;
  /** Page of it that is shown, from 0. */
  readonly page: number;
  readonly chart: ChartKind;
  readonly caseId: string | null;
  readonly units: ShownUnits;
  readonly theme: 'light' | 'dark';
  readonly sheet: SheetView;
  /** Counts the askings to show the whole job. */
  readonly fitAsked: number;
  readonly filled: ViewName | null;
  readonly drag: DragState | null;
  readonly tool: PhotoTool | null;
  /** Kept beside the present job for comparing; they live as long as the page. */
  readonly variants: readonly { readonly name: string; readonly job: Job; readonly outcome: Workings }[];
  readonly wizard: Wizard | null;
  /** The start page is shown in place of the bench. */
  readonly startPage: boolean;
  /** What struts need, and of what job. */
  readonly needs: { readonly outcome: Workings; readonly byStrut: ReadonlyMap<string, Needs> } | null;
  /** What numbers that nobody stated may change. */
  readonly assumed: { readonly outcome: Workings; readonly spread: readonly AssumedSpread[] } | null;
  /** Which way each strut's pivots must go to need less force. */
  readonly pulls: { readonly outcome: Workings; readonly byStrut: ReadonlyMap<string, ForceGradient> } | null;
  /** Hand-force bands of every load case. */
  readonly bands: { readonly outcome: Workings; readonly byCase: readonly CaseBands[] } | null;
  readonly notices: readonly Notice[];
  /** Where the guide is open: page, or page and anchor (“findings/strut-fits”); null: closed. */
  readonly guide: { readonly at: string } | null;
}

const EMPTY_JOB: Job = {
  format: 'lidwright-job',
  version: 1,
  title: '',
  points: [],
  hinge: { a: '', b: '', opens: 'up' },
  travel: { openDeg: 90, stop: 'lid' },
  grip: '',
  masses: [],
  struts: [],
  loadCases: [{ id: 'normal' }],
};

const initial: BenchState = {
  history: startHistory(EMPTY_JOB),
  resolved: resolveJob(EMPTY_JOB),
  outcome: null,
  findings: [],
  pending: [],
  trouble: [],
  file: { name: '', token: null, photosFrom: null, saved: null, draftId: '' },
  angleDeg: 0,
  selection: null,
  stage: 'place',
  paper: '',
  page: 0,
  chart: 'hand',
  caseId: null,
  units: METRIC,
  theme: 'light',
  sheet: { pxPerMm: 0.3, centre: [0, 0, 0] },
  fitAsked: 0,
  filled: null,
  drag: null,
  tool: null,
  variants: [],
  wizard: null,
  startPage: true,
  assumed: null,
  pulls: null,
  needs: null,
  bands: null,
  guide: null,
  notices: [],
};

export const bench = createStore<BenchState>(() => initial);

/** What follows from the job last shown, whether it could be worked out or not: the next one keeps what it can of it. */
let last: Workings | undefined;

/** Works out the present job; what can't be computed leaves the last drawing and says why. */
function derived(job: Job, state: BenchState): Partial<BenchState> {
  const outcome = (last = workingsOf(job, state.units, last));
  const none = { outcome: null, ...NOTHING_FOUND, trouble: outcome.trouble };
  const { value, error } = attempt((): Partial<BenchState> => {
    const resolved = outcome.job;
    if (none.trouble.length > 0) return { resolved, ...none };
    const angleDeg = Math.min(state.angleDeg, outcome.frame.openDeg);
    return { resolved, outcome, ...foundSoFar(outcome), trouble: [], angleDeg };
  });
  return error ? { ...none, trouble: error.issues } : value;
}

const NOTHING_FOUND = { findings: [], pending: [] } as const;
const foundSoFar = ({ findingsSoFar, missing }: Workings): Pick<BenchState, 'findings' | 'pending'> => ({
  findings: findingsSoFar,
  pending: missing,
});

/** Takes what was still to be found of the present job; null: it can't be found, and why. */
export function takeFound(answers: SlowAnswers | null, trouble?: Issue): void {
  const { outcome } = bench.getState();
  if (!answers) return bench.setState({ pending: [], trouble: trouble ? [trouble] : [] });
  outcome?.take(answers);
  if (outcome) bench.setState(foundSoFar(outcome));
}

/** Takes the advice that was tried for a job, if that is still the present one. */
export function takeAdvice(advice: readonly Advice[], of: Workings): void {
  const { outcome } = bench.getState();
  if (!outcome || outcome !== of) return;
  outcome.takeAdvice(advice);
  bench.setState(foundSoFar(outcome));
}

let noticeKey = 0;
export function notify(text: string, tone: Notice['tone'] = 'word'): void {
  bench.setState((s) => ({ notices: withNotice(s.notices, text, tone, ++noticeKey) }));
}

/** Runs what a person asked for; what core refuses is said, and null comes back. */
export function orSay<T>(run: () => T): T | null {
  const { value, error } = attempt(run);
  if (error) notify(error.message, 'bad');
  return value;
}

export const dismissNotice = (key: number): void =>
  bench.setState((s) => ({ notices: s.notices.filter((n) => n.key !== key) }));

/** Takes back a notice that is no longer true. */
export const withdrawNotice = (text: string): void =>
  bench.setState((s) => ({ notices: s.notices.filter((n) => n.text !== text) }));

export const presentJob = (): Job => bench.getState().history.present;

/** Part of the session that changes in the same moment as the job. */
type Also = Partial<Omit<BenchState, 'history'>>;

function put(history: History, also: Also = {}): void {
  const state = { ...bench.getState(), ...also };
  bench.setState({ ...also, history, ...derived(history.present, state) });
}

/** Opens a job in place of the present one; nothing of it is undone into the old one. */
export function openJob(job: Job, file: FileState): void {
  const { outcome, findings, pending, resolved, angleDeg, selection, caseId, drag, tool, variants, wizard } = initial;
  const afresh = { outcome, findings, pending, resolved, angleDeg, selection, caseId, drag, tool, variants, wizard };
  const shown = { ...afresh, startPage: false };
  dispatch({ name: 'Open', step: 'never', edit: () => job }, { file, ...shown });
}

/** Who answers a question about relations that takes longer than an edit may. */
let askAside: ((question: RelationQuestion, base: Job, label: string) => void) | null = null;
export const onRelationQuestion = (ask: typeof askAside): void => void (askAside = ask);

/** What changes the job. */
export interface Action {
  /** What the undo entry is called. */
  readonly name: string;
  /**
   * "step": one undo step; relations that held before it are brought to hold again. "gesture": a move of something that goes
   * on, each computed from the job at its start; all of it is one step when it ends (`finishDrag`), or none (`cancelDrag`).
   * "never": it can't be undone, and nothing before it either.
   */
  readonly step: 'step' | 'gesture' | 'never';
  readonly edit: (job: Job) => Job;
}

/**
 * The one way in which the job changes. An edit that core refuses changes nothing and is said: false. False too while it is
 * still being checked against relations: it is taken then when the answer comes.
 */
export function dispatch({ name, step, edit }: Action, also: Also = {}): boolean {
  const { history } = bench.getState();
  const done = orSay(() => {
    if (step === 'never') put(startHistory(edit(history.present)), also);
    else if (step === 'gesture') {
      const begun = history.mark ? history : beginGesture(history);
      put(moveGesture(begun, withoutTouched(begun.mark!, edit(begun.mark!))));
    } else
      return takeKept(
        keepRelations(history.present, withoutTouched(history.present, edit(history.present))),
        history.present,
        name,
        also,
      );
    return true;
  });
  return done ?? false;
}

function takeKept(kept: EditKept, base: Job, name: string, also: Also): boolean {
  if ('question' in kept) {
    if (askAside) askAside(kept.question, base, name);
    else notify('what must hold could not be kept', 'bad');
    return false;
  }
  takeJob(kept.job, name, also);
  sayMoved(kept.moved);
  return true;
}

/** Takes a finished job over as one undoable step, as it is. */
export function takeJob(job: Job, name: string, also: Also = {}): void {
  const { history } = bench.getState();
  put(commit(history.mark ? cancelGesture(history) : history, job, name), also);
}

/** Says which points relations took along; nothing where there are none. */
export function sayMoved(moved: readonly MovedPoint[]): void {
  const { units, history } = bench.getState();
  const text = movedText(history.present, moved, (mm) => formatQuantity(mm, 'length', units));
  if (text) notify(text);
}

/** One undoable step. */
export const edit = (name: string, run: (job: Job) => Job): boolean => dispatch({ name, step: 'step', edit: run });

export function undoStep(): void {
  put(undo(bench.getState().history));
}
export function redoStep(): void {
  put(redo(bench.getState().history));
}

export function startDrag(drag: DragState): void {
  const { history } = bench.getState();
  bench.setState({ history: beginGesture(history), drag });
}

/** A move of the drag under way, computed from the job at its start; where none is, nothing happens. */
export function moveDrag(run: (atStart: Job) => Job): void {
  if (bench.getState().history.mark) dispatch({ name: '', step: 'gesture', edit: run });
}

/** Ends a gesture: all of it is one undo step. A drag has kept the relations at every move; what a slider did keeps them now. */
export function finishDrag(name: string): void {
  const { history, drag } = bench.getState();
  if (drag) return put(endGesture(history, name), { drag: null });
  if (!history.mark) return;
  put(cancelGesture(history));
  dispatch({ name, step: 'step', edit: () => history.present });
}

export function cancelDrag(): void {
  put(cancelGesture(bench.getState().history), { drag: null });
}

export function setUnits(units: Partial<ShownUnits>): void {
  const { history, units: shown } = bench.getState();
  put(history, { units: { ...shown, ...units } });
}

export function setAngle(angleDeg: number): void {
  const { outcome, resolved } = bench.getState();
  const open = outcome?.frame.openDeg ?? resolved.travel.openDeg;
  bench.setState({ angleDeg: Math.min(Math.max(angleDeg, 0), open) });
}

/** Which stage of the job a finding belongs to. */
export function stageOf(finding: Finding): Stage {
  if (finding.id.startsWith('bracket')) return 'bracket';
  switch (finding.id) {
    case 'base-joint':
    case 'lid-joint':
    case 'base-swing':
    case 'lid-swing':
    case 'base-thread':
    case 'lid-thread':
    case 'clearance':
      return 'joints';
    case 'dead-centre':
    case 'over-centre':
    case 'opening-angle':
    case 'free-opening':
    case 'upright-hinge':
    case 'hinge-load':
    case 'hinge-screws':
    case 'latch-holds':
    case 'stays-shut':
      return 'place';
    case 'drop-energy':
      return 'weigh';
    case 'assumed-values':
      return finding.subject === 'lid' ? 'weigh' : 'strut';
    default:
      return 'strut';
  }
}

/** Shows what a finding is about: its strut or grip, and the angle where it is worst. */
export function showFinding(finding: Finding): void {
  const { resolved } = bench.getState();
  const selection: Selection = resolved.struts.some((s) => s.id === finding.subject)
    ? { kind: 'strut', id: finding.subject }
    : finding.subject === 'grip'
      ? { kind: 'point', id: resolved.grip }
      : null;
  const chart: ChartKind | null = finding.id.startsWith('hand')
    ? 'hand'
    : finding.id.endsWith('joint')
      ? 'joint'
      : finding.id.endsWith('reserve') || finding.id === 'strut-fits' || finding.id === 'dead-centre'
        ? 'length'
        : null;
  if (resolved.brackets.some((b) => b.id === finding.subject)) bracketStore.setState({ bracketId: finding.subject });
  bench.setState({ selection, ...(chart ? { chart } : {}), caseId: finding.everyCase ? null : finding.case });
  if (finding.worstDeg !== null) setAngle(finding.worstDeg);
}

export const isUnsaved = (state: BenchState): boolean => state.history.present !== state.file.saved;
