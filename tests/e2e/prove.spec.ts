// Proving with a real browser: a fit-up is typed down the table by keyboard alone, the cause is named, taken in and undone.
import { resolveJob } from '../../core/job';
import { fitUpPlan, makeProber, makeTrial } from '../../core/prove';
import { jobAt } from '../support/files';
import { type Bench, expect, test } from './support/bench';

const job = resolveJob(jobAt('tests/fixtures/jobs/workboat-hatch.lidjob'));
const plan = fitUpPlan(job);
/** Reading errors, in σ of the tool: what a careful hand does, and the same in every run. */
const ERRORS = [0.4, -0.9, 0.2, 1.1, -0.3, -0.6, 0.8, 0.1, -1.2, 0.5];

/** What a person reads on a lid that is a sixth heavier, by line of the table. */
function heavyLid(): Map<string, string> {
  const read = makeProber(
    makeTrial(job),
    plan.map((p) => p.probe),
  ).read({ massShare: 1 / 6 });
  return new Map(plan.map((p, i) => [p.key, (read[i]! + p.sigma * ERRORS[i % ERRORS.length]!).toFixed(1)]));
}

const lineKeys = (bench: Bench): Promise<string[]> =>
  bench.page.locator('.proof-table [data-reading]').evaluateAll((all) => all.map((l) => l.dataset['reading']!));

/** Types down the table: a value, Enter, the next. Gives how many were typed. */
async function typeAll(bench: Bench, values: ReadonlyMap<string, string>): Promise<number> {
  const { page } = bench;
  const keys = await lineKeys(bench);
  await page.locator('.proof-table input').first().focus();
  let typed = 0;
  for (const key of keys) {
    const value = values.get(key);
    if (value !== undefined) {
      await page.keyboard.type(value);
      typed++;
    }
    await page.keyboard.press('Enter');
  }
  return typed;
}

test('a heavy lid is proven by keyboard: verdicts, cause first, taken in, undone', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Prove');
  const table = page.locator('.proof-table');
  await expect(table.locator('[data-reading]')).toHaveCount(plan.length);
  // cautions come before anything else, and with nothing measured the prop stays in
  await expect(page.locator('.prove > *').first()).toContainText('Keep a prop in');
  await expect(page.locator('[data-go]')).toHaveAttribute('data-go', 'stop');
  await expect(page.locator('[data-proof]')).toHaveAttribute('data-proof', 'none');

  const values = heavyLid();
  expect(await typeAll(bench, values)).toBe(plan.length);
  const verdicts = table.locator('[data-reading]:not([data-verdict=open])');
  await expect(verdicts).toHaveCount(plan.length);
  // nothing was entered twice: the table has no line beside the plan's
  await expect(table.locator('[data-reading]')).toHaveCount(plan.length);

  await expect(page.locator('[data-proof]')).toHaveAttribute('data-proof', 'off');
  const first = page.locator('.causes > li').first();
  await expect(first).toHaveAttribute('data-cause', 'mass');
  await expect(first).toContainText(/The lid is about (9\.\d|1[01]\.\d) kg heavier than entered/);
  await expect(table.locator('[data-verdict=off]').first()).toBeVisible();
  // they stand on the curves too
  await expect(page.locator('.travel-chart')).toHaveAttribute('data-marks', '12');

  await first.getByRole('button', { name: 'Apply it to the job' }).click();
  await expect(page.locator('[data-proof]')).toHaveAttribute('data-proof', 'agrees');
  await expect(page.locator('[data-proof]')).toContainText('agrees with what was predicted');
  await expect(table.locator('[data-verdict=off]')).toHaveCount(0);
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.locator('[data-proof]')).toHaveAttribute('data-proof', 'off');
  await expect(page.locator('.causes > li').first()).toHaveAttribute('data-cause', 'mass');
});

test('a value that cannot be is refused where it is typed; an emptied line goes @deep', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Prove');
  const opens = page.locator('.proof-table [data-reading^="opens-to"]');
  await opens.locator('input').fill('400');
  await opens.locator('input').press('Enter');
  await expect(opens.getByRole('alert')).toContainText('out of bounds');
  await opens.locator('input').fill('69,8');
  await opens.locator('input').press('Enter');
  await expect(opens).toHaveAttribute('data-verdict', 'agrees');
  await opens.locator('input').fill('');
  await opens.locator('input').press('Enter');
  await expect(opens).toHaveAttribute('data-verdict', 'open');
  await expect(page.locator('[data-proof]')).toHaveAttribute('data-proof', 'none');
  // the same lines on paper
  await bench.button('Take it on paper: the fit-up checklist').click();
  await expect(page.locator('select[name=paper]')).toHaveValue('checklist');
  await expect(page.getByRole('group', { name: 'Pages' })).toContainText(/Page 1 of \d/);
});
