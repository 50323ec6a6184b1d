import type { Sheet } from '../drawing';
import type { ResolvedJob } from '../job';
import type { TriangleMesh } from '../solid';
import type { PaperFormatName, PaperKind } from './kinds';

/** One paper of a job: drawn when asked for. */
export interface Paper {
  /** Unique in its job: "template-b1". */
  readonly id: string;
  /** Its files' names without page and ending, unlike any other's of the job: "LW-0042-template-b1". */
  readonly stem: string;
  readonly kind: PaperKind;
  readonly title: string;
  /** What it is worth writing as; papers that are only read have no DXF. */
  readonly formats: readonly PaperFormatName[];
  /** Throws a LidwrightError that says why it can't be drawn. */
  readonly draw: () => readonly Sheet[];
  /** Its rows, heading first, where the paper has CSV. */
  readonly rows?: () => string[][];
  /** What a printer or a mill makes of what a page shows, where the paper has STL and 3MF. */
  readonly solid?: (page: number) => TriangleMesh;
}

/** A paper before its files are named. */
export type Planned = Omit<Paper, 'stem'>;

/** A text as a part of a file name: letters, digits, "-" and "_". */
const clean = (text: string): string =>
  text
    .replace(/[^\p{L}\p{N} _-]+/gu, '')
    .trim()
    .replace(/\s+/g, '-')
    .slice(0, 60);

/** Whether two stems could name the same file, with a page's number behind either and big and small letters alike. */
const clash = (a: string, b: string): boolean => {
  const [one, other] = [a.toLowerCase(), b.toLowerCase()];
  const page = (long: string, short: string): boolean =>
    long.startsWith(short) && /^(-\d+)?$/.test(long.slice(short.length));
  return page(one, other) || page(other, one);
};

/**
 * Stems of file names for a job's papers, no two alike: the drawing number, else the job's title; then the paper.
 * @example fileStems({ title: 'Engine hatch' }, ['report']) // ['Engine-hatch-report']
 */
export function fileStems(job: Pick<ResolvedJob, 'title' | 'papers'>, ids: readonly string[]): string[] {
  const head = clean(job.papers?.number ?? '') || clean(job.title) || 'Lid';
  const taken: string[] = [];
  for (const id of ids) {
    const bare = `${head}-${clean(id)}`;
    let stem = bare;
    for (let k = 2; taken.some((other) => clash(stem, other)); k++) stem = `${bare}-no${k}`;
    taken.push(stem);
  }
  return taken;
}

/** Names the files, and draws each paper once however often it is asked for. */
export function named(job: ResolvedJob, planned: readonly Planned[]): Paper[] {
  const stems = fileStems(
    job,
    planned.map(({ id }) => id),
  );
  return planned.map((paper, i) => {
    let sheets: readonly Sheet[] | null = null;
    return { ...paper, stem: stems[i]!, draw: () => (sheets ??= paper.draw()) };
  });
}
