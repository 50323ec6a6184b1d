// The guide over the bench: by its button at the page of the stage, from a finding at its place, by keyboard back to work.
import AxeBuilder from '@axe-core/playwright';
import { expect, test } from './support/bench';

test('the guide opens where one works, and no page of it breaches WCAG AA @deep', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Joints');
  const opener = page.getByRole('button', { name: 'Guide' });
  await opener.click();
  const guide = page.getByRole('complementary', { name: 'Guide' });
  await expect(guide.getByRole('heading', { level: 1 })).toHaveText('Joints');
  const picker = guide.getByLabel('Page of the guide');
  const found: string[] = [];
  for (const name of await picker
    .locator('option')
    .evaluateAll((all) => all.map((o) => (o as HTMLOptionElement).value))) {
    await picker.selectOption(name);
    const heading = guide.getByRole('heading', { level: 1 });
    await expect(heading).toBeFocused();
    await guide
      .locator('img')
      .evaluateAll((all) => all.forEach((img) => ((img as HTMLImageElement).loading = 'eager')));
    for (const img of await guide.locator('img').all())
      await expect.poll(() => img.evaluate((i) => (i as HTMLImageElement).naturalWidth)).toBeGreaterThan(0);
    const { violations } = await new AxeBuilder({ page }).include('.guide').analyze();
    found.push(...violations.flatMap((v) => v.nodes.map((n) => `${name}: ${v.id} ${n.target.join(' ')}`)));
  }
  expect(found).toEqual([]);
  await page.keyboard.press('Escape');
  await expect(guide).toHaveCount(0);
  await expect(opener).toBeFocused();

  // a finding's own place; a link, and the way back
  const finding = page.locator('.findings [data-finding="drop-energy"]').first();
  await finding.getByText('why', { exact: true }).click();
  await finding.getByText('What is this?').click();
  await finding.getByRole('button', { name: 'In the guide' }).click();
  const place = guide.getByRole('heading', { name: 'If a strut is lost' });
  await expect(place).toBeFocused();
  await expect(place).toBeInViewport();
  await picker.selectOption('start');
  await guide.getByRole('link', { name: 'Safety', exact: true }).click();
  await expect(guide.getByRole('heading', { level: 1 })).toHaveText('Safety');
  await guide.getByRole('button', { name: 'Back' }).click();
  await expect(guide.getByRole('heading', { level: 1 })).toHaveText('The whole job');
});
