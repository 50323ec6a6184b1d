// Findings: shown where they are worst, mended by what they propose; the examples' states; load cases.
import { readJob, resolveJob } from '../../core/job';
import { METRIC } from '../../core/quantity';
import { workings } from '../../core/workings';
import { sample } from '../support/tier';
import { expect, test } from './support/bench';
import { exampleText } from './support/paths';

test('a click on a finding goes to its worst angle and shows its strut; a proposal is one undo step', async ({
  bench,
}) => {
  const { page } = bench;
  const joint = page.locator('li[data-finding=base-joint]');
  await expect(joint).toHaveAttribute('data-state', 'fails');
  expect(await bench.angle()).toBe(0);
  await bench.workedOut();
  const words = (await joint.locator('.finding-body').textContent())!;
  await bench.setAngle(33);
  await bench.button('Show chart').click();
  await joint.locator('.finding-body').click();
  const job = readJob(exampleText('workboat-hatch'));
  const finding = workings(resolveJob(job), METRIC).findings.find((f) => f.id === 'base-joint')!;
  expect(await bench.angle()).toBeCloseTo(finding.worstDeg!, 1);
  await expect(page.getByLabel('Chart', { exact: true })).toHaveValue('joint');

  const turn = joint.getByRole('button', { name: /^Turn/ });
  await expect(turn).toBeVisible();
  await turn.click();
  await expect(page.locator('li[data-finding=base-joint][data-state=fails]')).toHaveCount(0);
  const after = (await bench.findings()).filter((f) => f.id === 'base-joint');
  expect(after.map((f) => f.state)).not.toContain('fails');
  await expect(bench.undo).toHaveAttribute('title', /Undo: Turn/);
  await bench.undo.click();
  await expect(joint.locator('.finding-body')).toHaveText(words);
  await expect(bench.undo).toBeDisabled();
});

for (const [name, words] of sample([
  ['trailer-locker', 'Trailer locker lid'],
  ['workboat-hatch', 'Workboat engine hatch'],
  ['machine-guard', 'Machine guard, opens down'],
] as const))
  test(`the page shows of ${name} what core finds`, async ({ bench }) => {
    await bench.page.locator('.open-menu > summary').click();
    await bench.button(words).click();
    const job = readJob(exampleText(name));
    await expect(bench.page.locator('.job-title')).toHaveText(job.title);
    await expect(bench.page.locator('.job-file')).toContainText('example');
    const { findings, frame } = workings(resolveJob(job), METRIC);
    const wanted = [...new Set(findings.map((f) => `${f.id} ${f.subject} ${f.state}`))].sort();
    expect((await bench.findings()).map((f) => `${f.id} ${f.subject} ${f.state}`).sort()).toEqual(wanted);
    await expect(bench.slider).toHaveAttribute('max', String(frame.openDeg));
    // open the lid: the drawn lid moves, the findings stay
    const shut = await bench.pointPx('side', job.grip);
    await bench.button(/^open \d/).click();
    // the slider itself moves by 0.1°
    expect(Math.abs((await bench.angle()) - frame.openDeg)).toBeLessThan(0.1);
    await expect
      .poll(async () => Math.hypot(...(await bench.pointPx('side', job.grip)).map((v, k) => v - shut[k]!)))
      .toBeGreaterThan(20);
  });

test('a load case is added, changed, chosen in the chart and removed', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Strut');
  const part = page
    .locator('details.part')
    .filter({ has: page.locator(':scope > summary', { hasText: /^Load cases$/ }) });
  // what none of them asks is folded among them
  const cases = part.locator('details.item', { has: page.locator('input[name^="loadCases."]') });
  const count = await cases.count();
  const before = await bench.findings();
  await part.getByRole('button', { name: /^Add/ }).click();
  await expect(cases).toHaveCount(count + 1);
  const i = count;
  await cases.nth(i).locator('summary').click();
  await bench.type(`loadCases.${i}.name`, 'On its side, polar night');
  await bench.type(`loadCases.${i}.tempC`, '-40');
  await bench.type(`loadCases.${i}.pitchDeg`, '-30');
  await page.locator(`select[name="loadCases.${i}.force"]`).selectOption('low');
  const chooser = page.getByLabel('Load case shown strongest');
  await expect(chooser.locator('option', { hasText: 'On its side, polar night' })).toHaveCount(1);
  await chooser.selectOption({ label: 'On its side, polar night' });
  await expect(page.locator('li[data-finding][data-state=fails]').first()).toBeVisible();
  const cold = page.locator('li[data-finding=stays-open][data-state=fails]');
  await expect(cold, 'a weak strut at −40 °C on a steep slope does not hold it').toContainText(
    'On its side, polar night',
  );
  const failsBefore = before.filter((f) => f.id === 'stays-open' && f.state === 'fails');
  expect(failsBefore).toEqual([]);
  await cases
    .nth(i)
    .getByRole('checkbox', { name: /is on$/ })
    .first()
    .uncheck();
  await cases.nth(i).getByRole('button', { name: 'Remove' }).click();
  await expect(cases).toHaveCount(count);
  expect(await bench.findings()).toEqual(before);
});
