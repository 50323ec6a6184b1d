// What a person looks at and works with: it lives as long as the page, is no part of the job and is never undone.
import type { Job } from '../../core/job';
import type { Workings } from '../../core/workings';
import type { PhotoTool } from '../photo/tool';
import type { SheetView } from './planes';
import { type ChartKind, type Selection, type Stage, type ViewName, bench, notify } from './store';
import { enterTyped, heldWords } from './unentered';

/** Most variants side by side. */
const MOST_VARIANTS = 3;

/** Goes to a stage of the job, and to one of its papers; a tool in hand is laid down. Not while a field holds what can't be taken. */
export function goTo(stage: Stage, paper?: string): void {
  const field = stage === bench.getState().stage ? null : enterTyped();
  if (field) return notify(heldWords('Not left', field), 'bad');
  bench.setState({ stage, tool: null, ...(paper === undefined ? {} : { paper, page: 0 }) });
}

export const choosePaper = (paper: string): void => bench.setState({ paper, page: 0 });
export const turnPage = (page: number): void => bench.setState({ page });
export const select = (selection: Selection): void => bench.setState({ selection });
export const showChart = (chart: ChartKind): void => bench.setState({ chart });
/** The load case shown strongest; null: all alike. */
export const showCase = (caseId: string | null): void => bench.setState({ caseId });
export const toggleTheme = (): void => bench.setState((s) => ({ theme: s.theme === 'light' ? 'dark' : 'light' }));

/** The tool that the next click on a photo is for; null lays it down. */
export const setTool = (tool: PhotoTool | null): void => bench.setState({ tool });
export const leaveTool = (): void => setTool(null);

/** Opens the guide at a page, or at a place in it. */
export const showGuide = (at: string): void => bench.setState({ guide: { at } });
export const closeGuide = (): void => bench.setState({ guide: null });

export const setSheet = (sheet: SheetView): void => bench.setState({ sheet });
/** Shows the whole job in every view, as soon as the views know their sizes. */
export const askFit = (): void => bench.setState((s) => ({ fitAsked: s.fitAsked + 1 }));
/** Lets one view fill the sheet, or gives all four back. */
export const toggleFilled = (view: ViewName): void => showAlone(bench.getState().filled === view ? null : view);
/** Shows one view alone, or all of them. */
export function showAlone(view: ViewName | null): void {
  if (bench.getState().filled === view) return;
  bench.setState({ filled: view });
  askFit();
}

/** Keeps a variant beside the present job, in place of the oldest where there are too many. */
export const keepVariant = (variant: { readonly name: string; readonly job: Job; readonly outcome: Workings }): void =>
  bench.setState((s) => ({ variants: [...s.variants, variant].slice(-MOST_VARIANTS) }));
export const dropVariant = (name: string): void =>
  bench.setState((s) => ({ variants: s.variants.filter((v) => v.name !== name) }));
