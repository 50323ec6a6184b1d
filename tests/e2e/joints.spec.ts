// Joints with a real browser: rings dragged, charts pressed, a wedge made and read back, surfaces, things in the way.
import type { Locator } from '@playwright/test';
import { inspect, readBinary } from '../core/joint/stl-reader';
import { type Bench, expect, test } from './support/bench';
import { exampleText, placesOf } from './support/paths';
import type { At } from './support/sheet-map';
import { wedgeAngleDeg } from './support/wedge-angle';

type V = [number, number, number];
interface SavedEnd {
  readonly mount: { readonly normal: V; readonly reference: V };
  readonly azimuthDeg: number;
  readonly tiltDeg: number;
}
const places = placesOf(exampleText('workboat-hatch'));
const RAD = Math.PI / 180;
const AZIMUTH_PX = 64;
const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((s, x, i) => s + x * b[i]!, 0);
const minus = (a: readonly number[], b: readonly number[]): V => [0, 1, 2].map((k) => a[k]! - b[k]!) as V;
const cross = (a: readonly number[], b: readonly number[]): V => [
  a[1]! * b[2]! - a[2]! * b[1]!,
  a[2]! * b[0]! - a[0]! * b[2]!,
  a[0]! * b[1]! - a[1]! * b[0]!,
];
const degBetween = (a: readonly number[], b: readonly number[]): number =>
  Math.acos(dot(a, b) / Math.hypot(...a) / Math.hypot(...b)) / RAD;

/** The stem by our own sum: turned from the reference about the normal, then leaned toward the normal. */
function stemOf({ mount: { normal: n, reference: e }, azimuthDeg, tiltDeg }: SavedEnd): V {
  const f = cross(n, e);
  const [c, s] = [Math.cos(azimuthDeg * RAD), Math.sin(azimuthDeg * RAD)];
  const [ct, st] = [Math.cos(tiltDeg * RAD), Math.sin(tiltDeg * RAD)];
  return [0, 1, 2].map((k) => ct * (c * e[k]! + s * f[k]!) + st * n[k]!) as V;
}

const endOf = async (bench: Bench, end: 'base' | 'lid'): Promise<SavedEnd> =>
  (JSON.parse(await bench.saveAs()) as { struts: { ends: Record<string, SavedEnd> }[] }).struts[0]!.ends[end]!;

const part = (bench: Bench, title: string): Locator =>
  bench.page.locator('details.part').filter({ has: bench.page.locator(`summary:text-is("${title}")`) });

async function unfold(box: Locator): Promise<void> {
  if ((await box.getAttribute('open')) === null) await box.locator('summary').first().click();
}

/** "Stem to strut: 108.9° closed, …" as numbers. */
async function shownAngles(box: Locator): Promise<[number, number]> {
  const text = (await box.locator('.sum').textContent())!;
  const found = /strut: ([\d.]+)° closed, ([\d.]+)° open/.exec(text);
  if (!found) throw new Error(`no angles in "${text}"`);
  return [Number(found[1]), Number(found[2])];
}

/** Where the azimuth ring of the base end is drawn in the top view: 64 px from the ball along the stem (lid shut). */
async function ringPx(bench: Bench, azimuthDeg: number): Promise<At> {
  const [x, y] = await bench.pointPx('top', 's1-base');
  // reference to starboard (0, −1, 0), normal up: a turn goes forward, which is right on paper; starboard is down
  return [x + AZIMUTH_PX * Math.sin(azimuthDeg * RAD), y + AZIMUTH_PX * Math.cos(azimuthDeg * RAD)];
}

const stateOf = (bench: Bench, id: string, state: string): Locator =>
  bench.page.locator(`li[data-finding="${id}"][data-state=${state}]`);
const azimuth = 'struts.0.ends.base.azimuthDeg';
const tilt = 'struts.0.ends.base.tiltDeg';

test('the base joint is mended by dragging its ring; Esc puts it back @deep', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Joints');
  await bench.button('On the lid').click();
  await bench.fitted();
  const base = part(bench, 'Base end');
  expect(degBetween([0.52992, -0.84805, 0], minus(places.get('s1-lid')!, places.get('s1-base')!))).toBeCloseTo(
    (await shownAngles(base))[0],
    1,
  );
  await expect(stateOf(bench, 'base-joint', 'fails')).toBeVisible();

  // Esc in mid-drag: as it was, nothing to undo
  const from = await ringPx(bench, 32);
  await page.mouse.move(...from);
  await page.mouse.down();
  await page.mouse.move(...(await ringPx(bench, 60)), { steps: 6 });
  await bench.painted();
  await expect(bench.field(azimuth)).not.toHaveValue('32');
  await page.keyboard.press('Escape');
  await page.mouse.up();
  await bench.painted();
  await expect(bench.field(azimuth)).toHaveValue('32');
  await expect(bench.undo).toBeDisabled();

  // The ring is dragged, a degree or two at a time, until the joint holds with some to spare
  await page.mouse.move(...from);
  await page.mouse.down();
  let at = 32;
  const fails = stateOf(bench, 'base-joint', 'fails');
  const watched = stateOf(bench, 'base-joint', 'watch');
  do {
    at -= 2;
    await page.mouse.move(...(await ringPx(bench, at)));
    await bench.painted();
  } while (at > -40 && (await fails.or(watched).count()) > 0);
  await page.mouse.up();
  await expect(bench.undo).toHaveAttribute('title', /Turn the mount/);
  expect((await bench.findings()).filter((f) => f.id === 'base-joint').map((f) => f.state)).toEqual(['holds']);
  const turned = Number(await bench.field(azimuth).inputValue());
  // a pixel on a 64 px ring is 0.9°
  expect(Math.abs(turned - at), `${turned}° for a ring at ${at}°`).toBeLessThan(1.5);
  const [shut, open] = await shownAngles(base);
  for (const angle of [shut, open]) expect(Math.abs(angle - 90)).toBeLessThanOrEqual(18);
  const stem = stemOf({ mount: { normal: [0, 0, 1], reference: [0, -1, 0] }, azimuthDeg: turned, tiltDeg: 0 });
  expect(degBetween(stem, minus(places.get('s1-lid')!, places.get('s1-base')!)), 'by our own sum').toBeCloseTo(shut, 1);
  await bench.undo.click();
  await expect(bench.field(azimuth)).toHaveValue('32');
  await expect(fails).toBeVisible();
});

test('what azimuth can’t mend is mended by the proposed stem; its wedge is closed and as steep as the tilt @deep', async ({
  bench,
}) => {
  const { page } = bench;
  await bench.stage('Joints');
  const base = part(bench, 'Base end');
  const row = page.locator('li[data-finding=base-joint]');
  await bench.workedOut();
  const words = (await row.locator('.finding-body').textContent())!;
  const baseline = await bench.saveAs();
  await bench.type(tilt, '30');
  await expect(page.locator('figure.azimuth figcaption')).toContainText('No azimuth holds at this lean');
  await expect(row).toContainText(/No azimuth at this tilt holds/);
  await expect(base.locator('summary').filter({ hasText: /^Wedge of 30.0° as a part$/ })).toHaveCount(1);

  // by the panel, to whole degrees
  await base.getByRole('button', { name: 'Turn and lean it so' }).click();
  await expect(stateOf(bench, 'base-joint', 'fails')).toHaveCount(0);
  expect((await bench.findings()).filter((f) => f.id === 'base-joint').map((f) => f.state)).toEqual(['holds']);
  const end = await endOf(bench, 'base');
  for (const set of [end.azimuthDeg, end.tiltDeg]) expect(Math.abs(set - Math.round(set))).toBeLessThan(1e-6);
  expect(Math.abs(end.tiltDeg)).toBeGreaterThan(0.5);
  await bench.undo.click();
  await expect(bench.field(tilt)).toHaveValue('30');

  // by the finding
  const mend = row.getByRole('button', { name: /^Turn to .*tilt/ });
  const said = /tilt ([−-]?[\d.]+)°/.exec((await mend.textContent())!)![1]!;
  await mend.click();
  expect((await bench.findings()).filter((f) => f.id === 'base-joint').map((f) => f.state)).toEqual(['holds']);
  const tiltDeg = (await endOf(bench, 'base')).tiltDeg;
  expect(tiltDeg).toBeCloseTo(Number(said.replace('−', '-')), 1);

  for (const wanted of [tiltDeg, 11.3]) {
    if (wanted !== tiltDeg) await bench.type(tilt, String(wanted));
    const wedge = base.locator('details.item').filter({ hasText: /^Wedge of/ });
    await expect(wedge.locator('summary')).toHaveText(`Wedge of ${Math.abs(wanted).toFixed(1)}° as a part`);
    await unfold(wedge);
    const file = await bench.downloaded(wedge.getByRole('button', { name: 'Export STL' }));
    expect(file.name).toMatch(/\.stl$/);
    const solid = readBinary(file.bytes);
    const found = inspect(solid);
    expect(found.closed, 'every edge is met twice').toBe(true);
    expect(found.normalsAgree).toBe(true);
    expect(found.volume).toBeGreaterThan(50 * 40 * 3);
    expect(Math.abs(wedgeAngleDeg(solid) - Math.abs(wanted)), `${wedgeAngleDeg(solid)}°`).toBeLessThan(0.01);
  }
  await bench.undo.click();

  // both steps back
  await expect(bench.undo).toHaveAttribute('title', /Turn to/);
  await bench.undo.click();
  await expect(bench.field(tilt)).toHaveValue('30');
  await bench.undo.click();
  await expect(row.locator('.finding-body')).toHaveText(words);
  expect(await bench.saveAs()).toBe(baseline);
});

test('the chart turns the mount, a fitting brings its range, a new surface leaves the stem', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Joints');
  const base = part(bench, 'Base end');
  const lid = part(bench, 'Lid end');

  // a press on the chart at −20°, by the chart's own marks
  const chart = page.locator('figure.azimuth svg');
  await chart.scrollIntoViewIfNeeded();
  const marks = await chart.locator('text').evaluateAll((all) =>
    all.map((t) => {
      const b = t.getBoundingClientRect();
      return { text: t.textContent ?? '', x: b.x + b.width / 2, y: b.y };
    }),
  );
  const xOf = (text: string): number => marks.find((m) => m.text === text)!.x;
  const box = (await chart.boundingBox())!;
  const perDeg = (xOf('−30°') - xOf('−60°')) / 30;
  await page.mouse.click(xOf('−30°') + 10 * perDeg, box.y + box.height / 2);
  await expect(bench.field(azimuth)).toHaveValue(/^-?−?(1[89]|2[0-2])$/);
  await expect(bench.undo).toHaveAttribute('title', /Turn the mount/);
  expect((await bench.findings()).filter((f) => f.id === 'base-joint').map((f) => f.state)).not.toContain('fails');

  // a fitting
  await page.getByLabel('Fitting, base end').selectOption('axial-ball');
  await expect(bench.field('struts.0.ends.base.rangeDeg')).toHaveValue('15');
  await expect(base.locator('.sum')).toContainText('between 75.0° and 105.0°');
  await page.getByLabel('Fitting, base end').selectOption('fork');
  await expect(bench.field('struts.0.ends.base.rangeDeg')).toHaveValue('3');
  await bench.undo.click();
  await expect(bench.field('struts.0.ends.base.rangeDeg')).toHaveValue('15');
  await bench.undo.click();
  await expect(bench.field('struts.0.ends.base.rangeDeg')).toHaveValue('18');

  // another surface: azimuth and tilt are told anew, the stem stays where it points
  const stem = stemOf(await endOf(bench, 'base'));
  const angles = await shownAngles(base);
  const same = async (): Promise<SavedEnd> => {
    const end = await endOf(bench, 'base');
    const drift = degBetween(stemOf(end), stem);
    expect(drift || 0, 'the stem has not turned').toBeLessThan(0.02);
    expect(await shownAngles(base)).toEqual(angles);
    return end;
  };
  await base.locator('summary').filter({ hasText: 'Surface it stands on' }).click();
  await page.getByLabel('Surface of the base end faces').selectOption({ label: 'back (−X)' });
  await expect(bench.undo).toHaveAttribute('title', /surface/);
  expect((await same()).mount.normal).toEqual([-1, 0, 0]);
  for (const [k, id] of ['hingeA', 'hingeB', 's1-base'].entries())
    await base.getByLabel(`Point ${k + 1} of the surface`).selectOption(id);
  await base.getByRole('button', { name: 'Use that surface' }).click();
  const { normal } = (await same()).mount;
  const [a, b, c] = ['hingeA', 'hingeB', 's1-base'].map((id) => places.get(id)!) as [V, V, V];
  for (const edge of [minus(b, a), minus(c, a)]) expect(Math.abs(degBetween(normal, edge) - 90)).toBeLessThan(0.02);
  await bench.undo.click();
  await bench.undo.click();
  expect((await same()).mount.normal).toEqual([0, 0, 1]);

  // a bare stem is put on a mount, and taken off it again
  const lidAngles = await shownAngles(lid);
  await lid.getByRole('button', { name: 'Put it on a mount' }).click();
  await expect(bench.field('struts.0.ends.lid.azimuthDeg')).toBeVisible();
  expect(await shownAngles(lid)).toEqual(lidAngles);
  await bench.type('struts.0.ends.lid.azimuthDeg', '25');
  await bench.type('struts.0.ends.lid.tiltDeg', '10');
  await expect.poll(() => shownAngles(lid)).not.toEqual(lidAngles);
  const leaned = await endOf(bench, 'lid');
  expect(degBetween(stemOf(leaned), minus(places.get('s1-base')!, places.get('s1-lid')!))).toBeCloseTo(
    180 - (await shownAngles(lid))[0],
    1,
  );
  const turned = await shownAngles(lid);
  await lid.getByRole('button', { name: 'Do without a mount' }).click();
  await expect(bench.field('struts.0.ends.lid.azimuthDeg')).toHaveCount(0);
  expect(await shownAngles(lid)).toEqual(turned);
});

test('a box dragged into the strut’s way fails, out of it holds', { tag: '@deep' }, async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Place');
  const box = part(bench, 'In the way');
  await unfold(box);
  await box.getByRole('button', { name: 'Add a box' }).click();
  const keys = page.locator('[data-view=side] [data-point^="obstacle/"]');
  await expect(keys).toHaveCount(1);
  const handle = (await keys.getAttribute('data-point'))!;
  const finding = `clearance-${handle.replace('obstacle/', '')}`;
  await unfold(box.locator('details.item'));
  for (const [k, v] of [-500, -534, 60].entries()) await bench.type(`obstacles.0.box.centre.${k}`, String(v));
  for (const k of [0, 1, 2]) await bench.type(`obstacles.0.box.sizeMm.${k}`, '40');
  await bench.fitted();
  const stateNow = async (): Promise<string[]> =>
    (await bench.findings()).filter((f) => f.id === finding).map((f) => f.state);
  await expect.poll(stateNow).toEqual(['holds']);

  const [base, lid, at] = [
    await bench.pointPx('side', 's1-base'),
    await bench.pointPx('side', 's1-lid'),
    await bench.pointPx('side', handle),
  ];
  const into: At = [(base[0] + lid[0]) / 2, (base[1] + lid[1]) / 2];
  await bench.dragPx(at, into);
  await expect.poll(stateNow).toEqual(['fails']);
  await expect(bench.undo).toHaveAttribute('title', /Move/);
  // the tally and the words say what it runs into
  await expect(stateOf(bench, finding, 'fails')).toContainText('Box');
  const now = await bench.pointPx('side', handle);
  expect(Math.hypot(now[0] - into[0], now[1] - into[1]), 'it lies where it was dropped').toBeLessThan(3);
  await bench.dragPx(now, at);
  await expect.poll(stateNow).toEqual(['holds']);
  await bench.undo.click();
  await expect.poll(stateNow).toEqual(['fails']);
  await bench.undo.click();
  await expect.poll(stateNow).toEqual(['holds']);

  // from the Joints stage too
  await bench.stage('Joints');
  await bench.button('On the lid').click();
  await bench.fitted();
  await bench.dragPx(await bench.pointPx('side', handle), into);
  await expect.poll(stateNow).toEqual(['fails']);
});

test('a surface clicked in a view gives the end its mount, and the stud points where it did', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Joints');
  const lid = part(bench, 'Lid end');
  await unfold(lid);
  await lid.locator('summary', { hasText: 'Surface it stands on' }).click();
  await lid.getByRole('button', { name: 'Click it in a view' }).click();
  await expect(lid.locator('.ask')).toContainText('the surface that the lid end stands on');
  await bench.fitted();
  const [x, y] = await bench.pointPx('top', 's1-lid');
  await page.mouse.click(x - 30, y - 80); // on the lid, clear of everything on it
  await expect(page.getByText('The lid end stands on: the outside of the lid.')).toBeVisible();
  const end = await endOf(bench, 'lid');
  expect(end.mount.normal[2]).toBeGreaterThan(0.9);
  expect(degBetween(stemOf(end), [0, -1, 0])).toBeLessThan(0.05);
  // a normal typed along the reference takes another reference, and nothing is lost
  for (const [k, value] of end.mount.reference.entries()) {
    const field = page.locator(`input[name="struts.0.ends.lid.mount.normal.${k}"]`);
    await field.fill(String(value));
    await field.press('Enter');
  }
  const along = await endOf(bench, 'lid');
  expect(degBetween(along.mount.normal, end.mount.reference)).toBeLessThan(0.05);
  expect(degBetween(along.mount.normal, along.mount.reference)).toBeGreaterThan(80);
  expect((await bench.findings()).length).toBeGreaterThan(10);
});
