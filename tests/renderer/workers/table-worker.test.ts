// The table worker behind a stand-in for its own scope: answers, progress, cancel, limits before a byte is read.
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type {
  ListAnswer,
  ListQuestion,
  ReadingsAnswer,
  ReadingsQuestion,
} from '../../../renderer/workers/table.worker';
import type { FromWorker, ToWorker } from '../../../renderer/workers/client';
import { jobAt } from '../../support/files';
import { DEEP } from '../../support/tier';
import { listOf } from '../../e2e/support/strut-lists';

const COUNT = DEEP ? 40_000 : 8000;

const replies: FromWorker[] = [];
let send: (message: ToWorker) => void = () => undefined;
const of = (run: number): FromWorker[] => replies.filter((r) => r.run === run);
async function until(run: number, key: 'progress' | 'answer' | 'issue' | 'cancelled') {
  while (!of(run).some((r) => key in r)) await new Promise((r) => setTimeout(r, 5));
  return of(run).find((r) => key in r)!;
}
let runs = 0;
const ask = (question: ListQuestion | ReadingsQuestion): number => {
  send({ run: ++runs, question });
  return runs;
};
const answerOf = async <A>(run: number): Promise<A> =>
  ((await until(run, 'answer')) as { answer: unknown }).answer as A;

/** A file of which no byte may be asked for, or a counted number of pieces. */
function file(sizeBytes: number, piece: (n: number) => Uint8Array, waitMs = 0): { blob: Blob; asked(): number } {
  let asked = 0;
  const arrayBuffer = async (): Promise<unknown> => {
    await new Promise((r) => setTimeout(r, waitMs));
    return piece(asked++).buffer;
  };
  const slice = (): Blob => ({ arrayBuffer }) as never;
  return { blob: { size: sizeBytes, slice } as never, asked: () => asked };
}

beforeAll(async () => {
  let listener: ((event: { data: ToWorker }) => void) | null = null;
  vi.stubGlobal('self', {
    postMessage: (m: FromWorker) => replies.push(structuredClone(m)),
    addEventListener: (_: string, f: (event: { data: ToWorker }) => void) => (listener = f),
  });
  await import('../../../renderer/workers/table.worker');
  send = (message) => listener!({ data: message });
});
afterAll(() => vi.unstubAllGlobals());

const list = (blob: Blob, match: ListQuestion['match'] = null): number =>
  ask({ of: 'list', name: 'a.csv', file: blob, match });

describe('table.worker', () => {
  it(`reads ${COUNT} struts, tells its progress, and takes another match`, async () => {
    const blob = new Blob([listOf(COUNT)]);
    const run = list(blob);
    const answer = await answerOf<ListAnswer>(run);
    expect(answer).toMatchObject({ rows: COUNT + 1, width: 8, faults: 0, encoding: 'UTF-8', separator: ',' });
    expect(answer.entries).toHaveLength(COUNT);
    const shares = of(run).flatMap((r) => ('progress' in r ? [r.progress as number] : []));
    expect(shares.length).toBeGreaterThan(0);
    expect(shares.every((s, i) => s >= (shares[i - 1] ?? 0) && s < 1)).toBe(true);
    const inches = await answerOf<ListAnswer>(list(blob, { ...answer.match, lengthUnit: 'in' }));
    expect(inches.entries[0]!.extendedMm).toBe(600 * 25.4);
    // too many faults for a screen are counted
    const { name: words, ...columns } = answer.match.columns;
    const none = await answerOf<ListAnswer>(list(blob, { ...answer.match, columns: { ...columns, rodMm: words! } }));
    expect(none).toMatchObject({ faults: COUNT, entries: [] });
    expect(none.errors).toHaveLength(30);
  });
  it('a cancel stops it, and it asks for no more of the file', async () => {
    const row = new TextEncoder().encode('a;b;c;d\n'.repeat(20));
    const { blob, asked } = file(19e6, () => row, 20);
    const run = list(blob);
    await until(run, 'progress');
    send({ cancel: run });
    await until(run, 'cancelled');
    const sofar = asked();
    await new Promise((r) => setTimeout(r, 50));
    expect(asked()).toBe(sofar);
    expect(of(run).some((r) => 'answer' in r)).toBe(false);
  });
  it('a file of 200 MB is refused unread', async () => {
    const { blob, asked } = file(200e6, () => new Uint8Array());
    expect(await until(list(blob), 'issue')).toMatchObject({ issue: { what: expect.stringContaining('over 20 MB') } });
    expect(asked()).toBe(0);
  });
  it('one endless line is given up after some pieces, and so are too many rows', async () => {
    const endless = file(19e6, () => new Uint8Array(256 * 1024).fill(0x78));
    expect(await until(list(endless.blob), 'issue')).toMatchObject({ issue: { what: expect.stringContaining('letters long') } }); // prettier-ignore
    expect(endless.asked()).toBeLessThan(6);
    const short = file(19e6, () => new TextEncoder().encode('a;b\n'.repeat(20_000)));
    expect(await until(list(short.blob), 'issue')).toMatchObject({ issue: { what: expect.stringContaining('more than 50,001 lines') } }); // prettier-ignore
    expect(short.asked()).toBe(3);
  });
  it('a file that goes while it is read is said', async () => {
    const blob = { size: 9, slice: () => ({ arrayBuffer: () => Promise.reject(new DOMException('gone', 'NotReadableError')) }) } as never; // prettier-ignore
    expect(await until(list(blob), 'issue')).toMatchObject({ issue: { what: '"a.csv" can\'t be read' } });
  });
  it('readings: in any letters, and their limit by what the job has room for', async () => {
    const job = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob') as unknown as ReadingsQuestion['job'];
    const read = (text: Blob): number => ask({ of: 'readings', name: 'r.csv', file: text, job });
    const latin1 = Uint8Array.from('from;to;value;name\nhingeA;grip;800,5;Tür Ø\n', (c) => c.charCodeAt(0));
    expect(await answerOf<ReadingsAnswer>(read(new Blob([latin1])))).toMatchObject({
      readings: [{ kind: 'tape', points: ['hingeA', 'grip'], valueMm: 800.5, name: 'Tür Ø' }],
      problems: [],
    });
    const many = read(new Blob(['hingeA;grip;800\n'.repeat(502)]));
    expect(await until(many, 'issue')).toMatchObject({ issue: { what: expect.stringContaining('lines'), advice: expect.stringContaining('500 readings at most') } }); // prettier-ignore
    const broken = await answerOf<ReadingsAnswer>(read(new Blob([Uint8Array.of(...latin1, ...'hingeA;grip;8'.split('').map((c) => c.charCodeAt(0)), 0x81)]))); // prettier-ignore
    expect(broken.problems).toMatchObject([{ line: 3, what: expect.stringContaining('Windows-1252') }]);
    expect(broken.readings).toHaveLength(1);
  });
});
