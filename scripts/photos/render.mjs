// Renders the example photos and writes their ground truth:  node scripts/photos/render.mjs [name …]
// Repeatable: seeded textures and noise, cameras fixed in shots.mjs. Needs Playwright and a Chromium.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';
import { fitUnderlay, project, underlayToView } from './camera.mjs';
import { shots } from './shots.mjs';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const jobPath = join(root, 'assets/examples/workboat-hatch.lidjob');
const MOST_BYTES = 345_000;
const HOST = 'http://photos.invalid';
const page3d = `<!doctype html><script type="importmap">{"imports":{"three":"/node_modules/three/build/three.module.js","three/addons/":"/node_modules/three/examples/jsm/"}}</script><script type="module" src="/scripts/photos/page/index.mjs"></script>`;

/** Serves this repository's files to the page without opening a port. */
async function openPage(browser) {
  const page = await browser.newPage();
  page.on('console', (message) => message.type() === 'error' && console.error('page:', message.text()));
  page.on('pageerror', (error) => console.error('page:', error.message));
  await page.route(`${HOST}/**`, (route) => {
    const path = decodeURIComponent(new URL(route.request().url()).pathname);
    if (path === '/') return route.fulfill({ contentType: 'text/html', body: page3d });
    const file = resolve(root, `.${path}`);
    if (!file.startsWith(root + sep)) return route.abort();
    return route.fulfill({ contentType: 'text/javascript', body: readFileSync(file) });
  });
  await page.goto(`${HOST}/`);
  await page.waitForFunction('window.photosReady === true');
  return page;
}

/** Stems, strut and bracket of the job, as plain numbers for the scene. */
function strutOf(path) {
  const job = JSON.parse(readFileSync(path, 'utf8'));
  const [strut] = job.struts;
  const stemOf = ({ mount, azimuthDeg, tiltDeg }) => {
    const [e, m] = [mount.reference, mount.normal];
    const side = [m[1] * e[2] - m[2] * e[1], m[2] * e[0] - m[0] * e[2], m[0] * e[1] - m[1] * e[0]];
    const [a, t] = [azimuthDeg, tiltDeg].map((deg) => (deg * Math.PI) / 180);
    return e.map((v, i) => Math.cos(t) * (v * Math.cos(a) + side[i] * Math.sin(a)) + Math.sin(t) * m[i]);
  };
  const { base, lid } = strut.ends;
  return { spec: strut.spec, bracket: job.brackets[0], stems: { base: stemOf(base), lid: stemOf(lid) } };
}

const round = (v, digits) => (Array.isArray(v) ? v.map((x) => round(x, digits)) : Number(v.toFixed(digits)));
const viewAxes = { side: [0, 2], top: [0, 1], front: [1, 2] };

/** Everything a test needs to check a photo: camera, points with their pixels, the scale bar, the fitted underlay. */
function truthOf(shot, visible) {
  const { camera, view, bar } = shot;
  const pixel = (at) => project(camera, at);
  const scale = { from: round(pixel(bar.from), 1), to: round(pixel(bar.to), 1), lengthMm: 500 };
  const pairs = shot.fit.map((id) => ({
    px: pixel(shot.points[id]),
    mm: viewAxes[view].map((i) => shot.points[id][i]),
  }));
  const { mmPerPx: _, ...underlay } = fitUnderlay(scale, pairs);
  const placed = {
    scale,
    rotationDeg: round(underlay.rotationDeg, 3),
    anchorPx: round(underlay.anchorPx, 1),
    anchorMm: round(underlay.anchorMm, 1),
  };
  const mmPerPx = 500 / Math.hypot(scale.to[0] - scale.from[0], scale.to[1] - scale.from[1]);
  const points = Object.entries(shot.points).map(([id, atMm]) => {
    const shown = underlayToView({ ...placed, mmPerPx }, pixel(atMm));
    const offMm = round(
      shown.map((v, i) => v - atMm[viewAxes[view][i]]),
      2,
    );
    return { id, atMm, px: round(pixel(atMm), 3), visible: visible[id], underlayOffMm: offMm };
  });
  return {
    photo: `${shot.name}.jpg`,
    view,
    note: 'Base frame X forward, Y left, Z up, mm. Camera axes x right, y down, z forward: px = K (R X + t). Pixel (0, 0) is the top left corner of the image. No distortion. "underlayOffMm": where the fitted underlay shows the point, less where it is.',
    widthPx: camera.widthPx,
    heightPx: camera.heightPx,
    camera: { K: camera.K, R: camera.R, t: camera.t, eyeMm: camera.eyeMm, distortion: 'none' },
    points,
    scaleBar: {
      lengthMm: 500,
      plane: { throughMm: bar.from, normal: bar.normal },
      ends: ['from', 'to'].map((end) => ({
        id: end,
        atMm: bar[end],
        px: round(pixel(bar[end]), 3),
        visible: visible[`bar-${end}`],
      })),
    },
    underlay: placed,
    fittedOn: shot.fit,
  };
}

const wanted = process.argv.slice(2);
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--enable-unsafe-swiftshader'],
});
try {
  for (const shot of shots(jobPath)) {
    if (wanted.length > 0 && !wanted.includes(shot.name)) continue;
    const page = await openPage(browser);
    const allPoints = { ...shot.points, 'bar-from': shot.bar.from, 'bar-to': shot.bar.to };
    const { url, quality, visible } = await page.evaluate((s) => window.takePhoto(s), {
      ...shot,
      allPoints,
      job: strutOf(jobPath),
      mostBytes: MOST_BYTES,
    });
    await page.close();
    const isShipped = shot.scene === 'workboat';
    const folder = join(root, isShipped ? 'assets/examples' : 'tests/fixtures/photos');
    const truthFolder = join(root, 'tests/fixtures/photos', isShipped ? 'shipped' : '');
    for (const dir of [folder, truthFolder]) mkdirSync(dir, { recursive: true });
    const jpeg = Buffer.from(url.slice(url.indexOf(',') + 1), 'base64');
    writeFileSync(join(folder, `${shot.name}.jpg`), jpeg);
    writeFileSync(join(truthFolder, `${shot.name}.truth.json`), `${JSON.stringify(truthOf(shot, visible), null, 1)}\n`);
    console.log(`${shot.name}: ${jpeg.length} bytes, quality ${quality}`);
  }
} finally {
  await browser.close();
}
