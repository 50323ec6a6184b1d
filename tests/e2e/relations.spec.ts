// Relations: demanded, kept through drags and changes, refused by name.
import { type Bench, type View, expect, test } from './support/bench';
import { exampleText } from './support/paths';

type V = readonly [number, number, number];
interface Saved {
  readonly points: readonly { readonly id: string; readonly at: V }[];
  readonly relations?: readonly { readonly id: string; readonly kind: string; readonly valueMm?: unknown }[];
  readonly givens?: readonly { readonly expression: string }[];
}

/** The job as it would be saved now. */
const saved = async (bench: Bench): Promise<Saved> => JSON.parse(await bench.saveAs()) as Saved;
const at = (job: Saved, id: string): V => job.points.find((p) => p.id === id)!.at;
const minus = (a: V, b: V): V => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const long = (a: V): number => Math.hypot(...a);
/** How far p lies from the line through a and b, by the area of the parallelogram. */
function fromLine(p: V, a: V, b: V): number {
  const [u, v] = [minus(b, a), minus(p, a)];
  return Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / Math.hypot(...u);
}

/** Opens a job by the file field of the page, as a person does. */
async function openJob(bench: Bench, change: (job: Record<string, unknown>) => void): Promise<void> {
  const job = JSON.parse(exampleText('workboat-hatch')) as Record<string, unknown>;
  change(job);
  await bench.drop('[data-view=top]', {
    name: 'made.lidjob',
    type: 'application/json',
    bytes: Buffer.from(JSON.stringify(job)),
  });
  await expect(bench.page.locator('.job-file')).toContainText('made');
  await bench.fitted();
}

/** Puts a relation together in the panel; null leaves the value as it is now. */
async function demand(
  bench: Bench,
  kind: string,
  points: Readonly<Record<string, string>>,
  value: string | null = null,
): Promise<void> {
  const { page } = bench;
  await page.getByLabel('Add a relation').selectOption({ label: kind });
  const draft = page.locator('.relation-draft');
  for (const [role, id] of Object.entries(points)) await draft.getByLabel(role, { exact: true }).selectOption(id);
  if (value !== null) await draft.getByLabel('Value of the relation').fill(value);
  await draft.getByRole('button', { name: 'Demand it' }).click();
}

const items = (bench: Bench) => bench.page.locator('[data-relation]');

/** Demands a relation and waits until it is taken. */
async function taken(bench: Bench, ...args: Parameters<typeof demand> extends [Bench, ...infer R] ? R : never) {
  const before = await items(bench).count();
  await demand(bench, ...args);
  await expect(items(bench)).toHaveCount(before + 1);
  await expect(items(bench).nth(before)).toHaveAttribute('data-holds', 'yes');
}

test.beforeEach(async ({ bench }) => {
  await bench.stage('Place');
});

for (const view of ['side', 'top', 'front'] as const satisfies readonly View[])
  test(`a pivot on a line and level with another is dragged in the ${view} view: both hold, one step`, async ({
    bench,
  }) => {
    await taken(bench, 'point on a line', { Point: 's1-lid', 'Line from': 'c3', 'Line to': 'grip' });
    await taken(bench, 'level with another point', { Point: 's1-lid', 'Level with': 'cg-panel' });
    const before = await saved(bench);
    await bench.dragPoint(view, 's1-lid', view === 'front' ? 22 : -38, 12, { release: false });
    const moving = await bench.pointPx(view, 's1-lid');
    await bench.page.mouse.up();
    await bench.painted();
    const after = await saved(bench);
    expect(long(minus(at(after, 's1-lid'), at(before, 's1-lid')))).toBeGreaterThan(5);
    expect(fromLine(at(after, 's1-lid'), at(after, 'c3'), at(after, 'grip'))).toBeLessThan(1e-6);
    expect(Math.abs(at(after, 's1-lid')[2] - at(after, 'cg-panel')[2])).toBeLessThan(1e-6);
    // the other points went along while it was dragged, not only at its end
    expect(await bench.pointPx(view, 's1-lid')).toEqual(moving);
    for (const id of ['hingeA', 'hingeB']) expect(at(after, id)).toEqual(at(before, id));
    await expect(bench.undo).toHaveAttribute('title', /Undo: Move /);
    await bench.undo.click();
    expect((await saved(bench)).points).toEqual(before.points);
    await bench.redo.click();
    expect((await saved(bench)).points).toEqual(after.points);
  });
