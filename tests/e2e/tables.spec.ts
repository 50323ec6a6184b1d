// Tables and jobs that are dropped go the way of those that are opened; what reading a job leaves out is said.
import { expect, test } from './support/bench';
import { inRepo, exampleText } from './support/paths';
import { readFileSync } from 'node:fs';

test('a dropped list is matched in stage Strut, dropped readings are taken in where one measures @deep', async ({
  bench,
}) => {
  const { page } = bench;
  const step = page.getByRole('group', { name: 'Match the columns' });
  await bench.stage('Place');
  await bench.drop('[data-view=side]', {
    name: 'good.csv',
    bytes: readFileSync(inRepo('tests/fixtures/lists', 'good.csv')),
  });
  await expect(step.getByRole('status')).toHaveText('8 struts read.');
  await step.getByRole('button', { name: 'Cancel' }).click();
  await bench.drop('body', { name: 'big.csv', bytes: Buffer.alloc(21_000_000, 'a;b\n') });
  await expect(bench.notice).toContainText('over 20 MB');
  await expect(step).toHaveCount(0);

  await bench.stage('Measure');
  const table = Buffer.from('from;to;value;name\nhingeA;grip;800,5;Tür Ø\nhingeA;nowhere;1;\n', 'latin1');
  await bench.drop('[data-view=side]', { name: 'tape.csv', bytes: table });
  await expect(page.locator('[data-reading]')).toHaveCount(1);
  await expect(page.locator('.exchange [role=alert]')).toContainText('Line 3: there is no one point called "nowhere"');
  await bench.undo.click();
  await expect(page.locator('[data-reading]')).toHaveCount(0);
});

test('a job with a key twice and one misspelt says so; both ways of opening it @deep', async ({ bench }) => {
  const { page } = bench;
  const text = JSON.stringify({ ...JSON.parse(exampleText('workboat-hatch')), limts: {} });
  const bytes = Buffer.from(text.replace('"hinge":{', '"hinge":{"frictionNm":9,'));
  await bench.drop('[data-view=side]', { name: 'twice.lidjob', bytes });
  const said = page.locator('.notice.bad').filter({ hasText: 'stands twice in “hinge”: 9 is dropped' });
  await expect(said).toBeVisible();
  await bench.workedOut();
  await expect(page.locator('li[data-finding=unknown-key][data-state=watch]')).toContainText(
    'probably “limits” is meant',
  );
});
