// Photos laid flat and photos with a camera, by the mouse. The pictures are rendered from known scenes: the truth is known.
import { readFileSync } from 'node:fs';
import { sample } from '../support/tier';
import { type Bench, type View, expect, test } from './support/bench';
import { exampleFile, exampleText, placesOf } from './support/paths';
import { laidAt, likeness, photoTruth, seenAt, withOrientation, type PhotoTruth } from './support/photo-truth';
import { type At, type Fit, toPx } from './support/sheet-map';

const side = photoTruth('workboat-side');
const top = photoTruth('workboat-top');
const picture = (name: string): Buffer => readFileSync(exampleFile(`${name}.jpg`));
const places = placesOf(exampleText('workboat-hatch'));

interface SavedJob {
  points: { id: string; at: number[] }[];
  photos: {
    id: string;
    widthPx: number;
    heightPx: number;
    anchorPx: At;
    anchorMm: At;
    scale?: { from: At; to: At };
    rectify?: { marks: { px: At; planeMm: At }[] };
  }[];
}
const saved = async (bench: Bench): Promise<SavedJob> => JSON.parse(await bench.saveAs()) as SavedJob;
const item = (bench: Bench, id: string) => bench.page.locator(`[data-photo=${id}]`);

/** Lets a view fill the sheet in the Measure stage; gives its scale. */
async function fill(bench: Bench, view: View): Promise<Fit> {
  await bench.stage('Measure');
  // the first photo's view is alone already
  if (view !== 'side') await bench.page.getByRole('button', { name: /^Photo Top/ }).click();
  await bench.fitted();
  const fit = await bench.sheet(view, places);
  expect(fit.worstPx).toBeLessThan(1);
  return fit;
}

/** Places on the starboard strut's plane, X and Z, whose marks span it. */
const STRUT_Y = -552;
const CORNERS: readonly At[] = [
  [-850, 60],
  [60, 60],
  [60, 520],
  [-850, 520],
];
const onPlane = (truth: PhotoTruth, [x, z]: At, y = STRUT_Y): [number, number] => seenAt(truth, [x, y, z]);

async function clickMarks(bench: Bench, fit: Fit, pxs: readonly At[]): Promise<void> {
  for (const px of pxs) await click(bench, toPx(fit, laidAt(side.underlay, px)));
}
async function typePlace(bench: Bench, mark: number, [x, z]: At): Promise<void> {
  for (const [axis, v] of [
    ['X', x],
    ['Z', z],
  ] as const) {
    const field = bench.page.getByLabel(`${axis} of mark ${mark}`, { exact: true });
    await field.fill(`${v} mm`);
    await field.press('Enter');
  }
}
async function setSquare(bench: Bench, fit: Fit): Promise<void> {
  await bench.button('Square').click();
  await clickMarks(
    bench,
    fit,
    CORNERS.map((c) => onPlane(side, c)),
  );
  await expect(bench.page.locator('[data-square]')).toHaveAttribute('data-square', '4');
  for (const [i, c] of CORNERS.entries()) await typePlace(bench, i + 1, c);
  await bench.button('Lay it flat').click();
  await expect(item(bench, 'side').locator('[data-mark]')).toHaveCount(4);
}
/** A click as a hand makes it: on a whole pixel of the screen. */
const click = (bench: Bench, [x, y]: At): Promise<void> => bench.page.mouse.click(Math.round(x), Math.round(y));
const offPx = (bench: Bench): Promise<number[]> =>
  item(bench, 'side')
    .locator('[data-mark]')
    .evaluateAll((rows) => rows.map((r) => Number((r as HTMLElement).dataset['offPx'])));

/** Pairs of a place on the screen and the pixel that belongs there, over the marked plane. */
function gridOver(fit: Fit): { screen: At; px: At }[] {
  const pairs: { screen: At; px: At }[] = [];
  for (let x = -820; x <= 40; x += 19)
    for (let z = 70; z <= 510; z += 23) pairs.push({ screen: toPx(fit, [x, z]), px: onPlane(side, [x, z]) });
  return pairs;
}

test('a pivot is traced with the mouse from a photo that four marks have set square @deep', async ({ bench }) => {
  const fit = await fill(bench, 'side');
  await setSquare(bench, fit);
  expect(Math.max(...(await offPx(bench)))).toBeLessThan(0.01);
  await expect(item(bench, 'side')).toContainText('Four marks leave nothing over');

  // the view shows the photo laid flat: each place of the plane shows the pixel that the known camera saw there
  await bench.page.getByLabel(/^Opacity of Side/).fill('1');
  await expect
    .poll(async () => likeness(bench.page, 'side', picture('workboat-side'), gridOver(fit)))
    .toBeGreaterThan(0.9);

  // the pivot is led astray, then dragged to where the picture shows it
  await bench.dragPoint('side', 's1-base', 90, -70);
  const astray = (await saved(bench)).points.find((p) => p.id === 's1-base')!.at;
  expect(Math.hypot(astray[0]! + 118, astray[2]! - 40)).toBeGreaterThan(50);
  const real = places.get('s1-base')!;
  await bench.dragPx(await bench.pointPx('side', 's1-base'), toPx(fit, [real[0]!, real[2]!]));
  const traced = (await saved(bench)).points.find((p) => p.id === 's1-base')!.at;
  // a screen pixel is some 1.5 mm here, for the marks and for the pivot
  expect(Math.hypot(traced[0]! - real[0]!, traced[2]! - real[2]!)).toBeLessThan(4);
  expect(traced[1]).toBe(real[1]);
  await bench.undo.click();
  expect((await saved(bench)).points.find((p) => p.id === 's1-base')!.at).toEqual(astray);

  // one click puts it there too, at the depth of the plane where that is known
  await bench.type('photos.0.rectify.depthMm', `${STRUT_Y - 5} mm`);
  // taken nearly square to the plane, the photo itself hardly tells how far off the camera stood: its lens does
  await item(bench, 'side').locator('summary', { hasText: 'Points from photos' }).click();
  await item(bench, 'side').getByLabel('Focal length as on 35 mm film').fill('35');
  await bench.page.keyboard.press('Enter');
  await expect(item(bench, 'side').locator('[data-plane-depth]')).toContainText('from its true place');
  await bench.page.getByLabel(/^Put a point where Side/).selectOption('s1-base');
  await click(bench, toPx(fit, [real[0]!, real[2]!]));
  const put = (await saved(bench)).points.find((p) => p.id === 's1-base')!.at;
  expect(Math.hypot(put[0]! - real[0]!, put[2]! - real[2]!)).toBeLessThan(4);
  expect(put[1]).toBe(STRUT_Y - 5);

  await bench.undoAll();
  const back = await saved(bench);
  expect(back.photos[0]!.rectify).toBeUndefined();
  expect(back.points.find((p) => p.id === 's1-base')!.at).toEqual(real);
});

test('more than four marks show how they fit, and one that is wrong shows', { tag: '@deep' }, async ({ bench }) => {
  const fit = await fill(bench, 'side');
  await setSquare(bench, fit);
  const photo = item(bench, 'side');
  const MORE: readonly At[] = [
    [-400, 290],
    [-600, 100],
    [-150, 450],
  ];
  // told by what the flat photo shows now, so clicked where the plane has them
  const clickOnFlat = (mm: At): Promise<void> => click(bench, toPx(fit, mm));

  await photo.getByRole('button', { name: 'Change the marks' }).click();
  await clickOnFlat(MORE[0]!);
  await expect(bench.page.locator('[data-square]')).toHaveAttribute('data-square', '5');
  await typePlace(bench, 5, MORE[0]!);
  await bench.button('Lay it flat').click();
  await expect(photo.locator('[data-mark]')).toHaveCount(5);
  const good = await offPx(bench);
  expect(Math.max(...good)).toBeGreaterThan(0.001);
  expect(Math.max(...good)).toBeLessThan(1);
  await expect(photo).toContainText('The marks agree.');

  // a place 25 mm wrong: five marks show that something is wrong, seven which
  await photo.getByRole('button', { name: 'Change the marks' }).click();
  await typePlace(bench, 5, [MORE[0]![0] + 25, MORE[0]![1]]);
  await bench.button('Lay it flat').click();
  await expect(photo.getByRole('status').first()).toContainText('do not agree');
  expect(Math.max(...(await offPx(bench)))).toBeGreaterThan(5);
  await bench.undo.click();
  expect(await offPx(bench)).toEqual(good);

  await photo.getByRole('button', { name: 'Change the marks' }).click();
  for (const [i, mm] of MORE.slice(1).entries()) {
    await clickOnFlat(mm);
    await typePlace(bench, 6 + i, mm);
  }
  // the wrong one is a corner, which draws the fit its way and whose own residual stays small
  await typePlace(bench, 3, [CORNERS[2]![0], CORNERS[2]![1] - 25]);
  await bench.button('Lay it flat').click();
  await expect(photo.locator('[data-mark]')).toHaveCount(7);
  await expect(photo.getByRole('status').first()).toContainText('Mark 3 does not fit the others');
});

test(
  'four corners of a rectangle need two sides only; a length on the flat photo is true',
  { tag: '@deep' },
  async ({ bench }) => {
    const fit = await fill(bench, 'side');
    const photo = item(bench, 'side');
    const [{ atMm: from }, { atMm: to }] = side.scaleBar.ends as [
      (typeof side.scaleBar.ends)[0],
      (typeof side.scaleBar.ends)[0],
    ];
    const y = from[1];
    await bench.button('Square').click();
    // in no order
    const corners = [0, 2, 3, 1].map((i) => onPlane(side, CORNERS[i]!, y));
    await clickMarks(bench, fit, corners);
    await bench.page.getByLabel('Width', { exact: true }).fill('91 cm');
    await bench.page.getByLabel('Height', { exact: true }).fill('460 mm');
    await bench.page.keyboard.press('Enter');
    await bench.button('Fill in the places').click();
    await expect(bench.page.getByLabel('X of mark 1', { exact: true })).not.toHaveValue('');
    await bench.button('Lay it flat').click();
    await expect(photo.locator('[data-mark]')).toHaveCount(4);

    // the places are the rectangle's own; what lies in its plane is found by them
    const { marks } = (await saved(bench)).photos[0]!.rectify!;
    const [c0, c2] = [marks[0]!.planeMm, marks[1]!.planeMm];
    expect([c2[0] - c0[0], c2[1] - c0[1]]).toEqual([910, 460]);
    const shown = (mm: readonly number[]): At =>
      toPx(fit, [mm[0]! - CORNERS[0]![0] + c0[0], mm[2]! - CORNERS[0]![1] + c0[1]]);
    await bench.button('Length').click();
    for (const end of [from, to]) await click(bench, shown(end));
    const length = Number(await bench.page.locator('[data-length]').getAttribute('data-length'));
    // 0.5 % for marks to a pixel of the photo; a pixel of the screen is a little more than that
    expect(Math.abs(length / side.scaleBar.lengthMm - 1)).toBeLessThan(0.007);
  },
);

test('marks in two photos give a place in space, through the readings @deep', async ({ bench }) => {
  const KNOWN = ['hingeA', 'hingeB', 'c1', 'c2', 'c3', 'c4', 'grip', 'cg-canister', 's1-lid'];
  const real = places.get('s1-base')!;
  for (const [view, truth] of [
    ['side', side],
    ['top', top],
  ] as const) {
    const fit = await fill(bench, view);
    const photo = item(bench, view);
    await photo.getByText('Points from photos').click();
    for (const id of [...KNOWN, 's1-base']) {
      await photo.getByLabel(/^Mark a point on/).selectOption(id);
      const { px } = truth.points.find((p) => p.id === id)!;
      await click(bench, toPx(fit, laidAt(truth.underlay, px)));
      const row = photo.locator(`[data-marked=${id}]`);
      await expect(row).toHaveCount(1);
      if (id !== 's1-base') await row.getByRole('checkbox').check();
    }
    await expect(photo.locator('[data-camera]')).toBeVisible();
    expect(Number(await photo.locator('[data-camera]').getAttribute('data-rms'))).toBeLessThan(1.5);
    await bench.page.locator(`.view-${view}`).getByRole('button', { name: 'All views' }).click();
  }
  // the job has it elsewhere until the photos say
  await bench.stage('Place');
  await bench.fitted();
  const fit = await bench.sheet('side', places);
  await bench.dragPoint('side', 's1-base', 60 * fit.pxPerMm, -40 * fit.pxPerMm);
  const astray = (await saved(bench)).points.find((p) => p.id === 's1-base')!.at;
  expect(Math.hypot(astray[0]! - real[0]!, astray[2]! - real[2]!)).toBeGreaterThan(50);
  await bench.stage('Measure');
  await bench.button('Move the points to where the readings put them').click();
  const at = (await saved(bench)).points.find((p) => p.id === 's1-base')!.at;
  // 1 px of the screen is some 2 px of the photo, from 3.7 m and 4.6 m away
  expect(Math.hypot(...at.map((v, k) => v - real[k]!))).toBeLessThan(12);
  for (const id of KNOWN)
    expect((await saved(bench)).points.find((p) => p.id === id)!.at).toEqual([...places.get(id)!]);
  await bench.undo.click();
  expect((await saved(bench)).points.find((p) => p.id === 's1-base')!.at).toEqual(astray);
});

/** Where a stored pixel stands once the picture is turned as its note says (EXIF 2.3, tag 0x0112), for 1600 × 1200. */
const UPRIGHT: Readonly<Record<number, (px: At) => At>> = {
  3: ([x, y]) => [1600 - x, 1200 - y],
  6: ([x, y]) => [1200 - y, x],
  8: ([x, y]) => [y, 1600 - x],
};

for (const orientation of sample([6, 3, 8]))
  test(`a photo whose note says ${orientation} is laid upright, and its marks agree @deep`, async ({ bench }) => {
    const fit = await fill(bench, 'side');
    const stored = picture('workboat-side');
    await bench.page.getByLabel('Photo to lay under').setInputFiles({
      name: 'turned.jpg',
      mimeType: 'image/jpeg',
      buffer: withOrientation(stored, orientation),
    });
    await expect(bench.notice).toContainText('turned lies under the side view');
    const laid = (await saved(bench)).photos.find((p) => p.id !== 'side' && p.id !== 'top')!;
    expect([laid.widthPx, laid.heightPx]).toEqual(orientation === 3 ? [1600, 1200] : [1200, 1600]);
    // unscaled, it is shown 1500 mm wide about its anchor
    const k = 1500 / laid.widthPx;
    const screen = (px: At): At =>
      toPx(fit, [laid.anchorMm[0] + k * (px[0] - laid.anchorPx[0]), laid.anchorMm[1] - k * (px[1] - laid.anchorPx[1])]);
    const pairs: { screen: At; px: At }[] = [];
    for (let x = 310; x < 1300; x += 23)
      for (let y = 310; y < 900; y += 29) pairs.push({ px: [x, y], screen: screen(UPRIGHT[orientation]!([x, y])) });
    await expect.poll(async () => likeness(bench.page, 'side', stored, pairs)).toBeGreaterThan(0.9);

    // a click falls on a whole pixel of the screen, which is some four of the photo
    const ends = side.scaleBar.ends.map((e) => {
      const px = UPRIGHT[orientation]!(e.px);
      const at = screen(px).map(Math.round) as unknown as At;
      const perPx = fit.pxPerMm * k;
      return { at, px: [0, 1].map((i) => px[i]! + (at[i]! - screen(px)[i]!) / perPx) };
    });
    for (const { at } of ends) await click(bench, at);
    await bench.page.getByLabel('Length between the marks').fill('500 mm');
    await bench.page.keyboard.press('Enter');
    const { scale } = (await saved(bench)).photos.find((p) => p.id === laid.id)!;
    for (const [i, key] of (['from', 'to'] as const).entries())
      expect(Math.hypot(scale![key][0] - ends[i]!.px[0]!, scale![key][1] - ends[i]!.px[1]!)).toBeLessThan(1);
  });

test('a broken photo and one too large are refused in words, and the job stays as it was @deep', async ({ bench }) => {
  await bench.stage('Measure');
  const findings = await bench.findings();
  const whole = picture('workboat-side');
  // the size in the frame header (ITU-T T.81, B.2.2): 16 000 × 12 000, as told before anything is decoded
  const huge = Buffer.from(whole);
  for (let i = 2; i < huge.length; i += 2 + huge.readUInt16BE(i + 2))
    if (huge[i] === 0xff && [0xc0, 0xc1, 0xc2].includes(huge[i + 1]!)) {
      huge.writeUInt16BE(12_000, i + 5);
      huge.writeUInt16BE(16_000, i + 7);
      break;
    }
  for (const [name, buffer, words] of [
    ['broken.jpg', whole.subarray(0, 900), /"broken\.jpg" is (damaged|not a JPEG)/],
    ['list.jpg', Buffer.from('two shackles, one thimble'), /"list\.jpg" is not a JPEG, PNG or WebP/],
    ['huge.jpg', huge, /"huge\.jpg" has 192 megapixels, more than can be opened/],
  ] as const) {
    await bench.page.getByLabel('Photo to lay under').setInputFiles({ name, mimeType: 'image/jpeg', buffer });
    await expect(bench.notice, name).toHaveText(words);
    await bench.button('Put this message away').click();
  }
  await expect(bench.undo).toBeDisabled();
  expect(await bench.findings()).toEqual(findings);
  expect((await saved(bench)).photos.map((p) => p.id)).toEqual(['side', 'top']);
});
