// What every browser test shares: the page opened on the example, watched for errors, and handled as a person would.
import {
  test as base,
  type Browser,
  type BrowserContextOptions,
  expect,
  type Locator,
  type Page,
  type ViewportSize,
} from '@playwright/test';
import { readJobFile, writeJob } from '../../../core/job';
import { exampleFile } from './paths';
import { type At, type Fit, fitSheet } from './sheet-map';

export { expect };
export type View = 'side' | 'top' | 'front';
export type Stage = 'Measure' | 'Weigh' | 'Place' | 'Strut' | 'Joints' | 'Bracket' | 'Papers' | 'Prove';

/** Which coordinate runs right and which up, and the sign of right on paper: first angle as the design lays it out. */
export const AXES = {
  side: { right: 0, up: 2, sign: 1 },
  top: { right: 0, up: 1, sign: 1 },
  front: { right: 1, up: 2, sign: -1 },
} as const;

export interface FindingRow {
  readonly id: string;
  readonly subject: string;
  readonly state: string;
  readonly loadCase: string;
  readonly text: string;
}

/** A browser without the File System Access API: saving downloads. */
export const withoutPickers = (): void => {
  delete (window as { showSaveFilePicker?: unknown }).showSaveFilePicker;
  delete (window as { showOpenFilePicker?: unknown }).showOpenFilePicker;
};

/** Remembers what the content policy refused; the test fails for any. */
const watchPolicy = (): void => {
  const seen: string[] = [];
  (window as unknown as { policyBreaks: string[] }).policyBreaks = seen;
  document.addEventListener('securitypolicyviolation', (e) =>
    seen.push(`${e.effectiveDirective} refused ${e.blockedURI} (${e.sourceFile}:${e.lineNumber})`),
  );
};

/** Errors of the page and of its content policy, gathered from the start; each call gives those since the one before. */
export async function watch(page: Page): Promise<() => Promise<string[]>> {
  const seen: string[] = [];
  page.on('console', (message) => message.type() === 'error' && seen.push(`console: ${message.text()}`));
  page.on('pageerror', (error) => seen.push(`page: ${error.stack ?? error.message}`));
  await page.addInitScript(watchPolicy);
  return async () => {
    const broken = page.isClosed()
      ? []
      : await page.evaluate(() => (window as unknown as { policyBreaks?: string[] }).policyBreaks ?? []);
    return [...seen.splice(0), ...broken];
  };
}

export class Bench {
  private mayDownload = 0;

  constructor(readonly page: Page) {}

  /** Opens the page and waits until the example is worked out and drawn. */
  async open(): Promise<void> {
    await this.page.goto('/');
    await this.openExample();
  }

  /** From the start page to the first example, an older fit of its strut in its place: see `exampleFile`. */
  async openExample(): Promise<void> {
    await this.page.route(/\/examples\/workboat-[^/]*$/, (route, request) =>
      route.fulfill({ path: exampleFile(request.url().split('/').at(-1)!) }),
    );
    await this.page.getByRole('button', { name: /^Workboat engine hatch/ }).click();
    await this.ready();
  }

  async ready(): Promise<void> {
    await expect(this.page.locator('[data-finding]').first()).toBeVisible();
    await expect(this.page.locator('[data-view=side] canvas:visible').first()).toBeVisible();
    await this.fitted();
  }

  /** Until the points stand still over two frames: a fit comes two frames after what asked for it. */
  async fitted(): Promise<void> {
    await this.page.evaluate(async () => {
      const places = (): string =>
        [...document.querySelectorAll<HTMLElement>('[data-point]')].map((b) => b.style.transform).join();
      const frame = (): Promise<unknown> => new Promise((done) => requestAnimationFrame(done));
      let before = '';
      for (let still = 0; still < 3;) {
        await frame();
        const now = places();
        still = now === before ? still + 1 : 0;
        before = now;
      }
    });
  }

  /** Until what was asked for is painted. */
  async painted(): Promise<void> {
    await this.page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  }

  view(name: View | 'space'): Locator {
    return this.page.locator(`[data-view=${name}]`);
  }

  key(view: View, id: string): Locator {
    return this.page.locator(`[data-view=${view}] [data-point="${id}"]`);
  }

  /** Where a point is on the screen: the middle of its key. */
  async pointPx(view: View, id: string): Promise<At> {
    const box = await this.key(view, id).boundingBox();
    if (!box) throw new Error(`no key for ${id} in the ${view} view`);
    return [box.x + box.width / 2, box.y + box.height / 2];
  }

  /** Screen pixels of a view against mm, from the points' own keys and their typed places (lid shut). */
  async sheet(view: View, places: ReadonlyMap<string, readonly number[]>): Promise<Fit> {
    const { right, up, sign } = AXES[view];
    const seen = await this.page.locator(`[data-view=${view}] [data-point]`).evaluateAll((keys) =>
      keys.map((k) => {
        const b = k.getBoundingClientRect();
        return [(k as HTMLElement).dataset['point'] as string, b.x + b.width / 2, b.y + b.height / 2] as const;
      }),
    );
    return fitSheet(
      seen.flatMap(([id, x, y]) => {
        // corners of zones are no points of the job
        const at = places.get(id);
        return at ? [{ px: [x, y], mm: [sign * at[right]!, at[up]!] }] : [];
      }),
    );
  }

  /** Drags from one place on the screen to another with the left button, in a few steps. */
  async dragPx(from: At, to: At, { release = true, steps = 8 } = {}): Promise<void> {
    const { mouse } = this.page;
    await mouse.move(from[0], from[1]);
    await mouse.down();
    await mouse.move(to[0], to[1], { steps });
    if (release) await mouse.up();
    await this.painted();
  }

  /** Takes a point by its middle and drags it by pixels; it is chosen first, as where points lie on one another. */
  async dragPoint(view: View, id: string, dx: number, dy: number, how?: { release?: boolean }): Promise<void> {
    await this.key(view, id).focus();
    const from = await this.pointPx(view, id);
    await this.dragPx(from, [from[0] + dx, from[1] + dy], how);
  }

  field(path: string): Locator {
    return this.page.locator(`input[name="${path}"]`).first();
  }

  async type(path: string, text: string): Promise<void> {
    const field = this.field(path);
    await field.fill(text);
    await field.press('Enter');
  }

  async stage(name: Stage): Promise<void> {
    await this.page.getByRole('navigation', { name: 'Stages of the job' }).getByRole('button', { name }).click();
  }

  button(name: string | RegExp): Locator {
    return this.page.getByRole('button', { name, exact: typeof name === 'string' });
  }

  get undo(): Locator {
    return this.button('Undo');
  }
  get redo(): Locator {
    return this.button('Redo');
  }

  /** Undoes until nothing is left; says how many steps there were. */
  async undoAll(): Promise<number> {
    let count = 0;
    while (await this.undo.isEnabled()) {
      await this.undo.click();
      count++;
      if (count > 200) throw new Error('undo never ends');
    }
    return count;
  }

  /** The travel strip's own slider; the chart under it answers to the same name. */
  get slider(): Locator {
    return this.page.locator('input[type=range][aria-label="Opening angle"]');
  }

  async angle(): Promise<number> {
    return Number(await this.slider.inputValue());
  }

  async setAngle(deg: number): Promise<void> {
    await this.slider.fill(String(deg));
    await this.painted();
  }

  /** Until no finding is being worked out any more. */
  async workedOut(): Promise<void> {
    await expect(this.page.getByText('Being worked out')).toHaveCount(0);
  }

  /** The findings as shown when all are worked out, those that hold unfolded. */
  async findings(): Promise<FindingRow[]> {
    await this.workedOut();
    const fold = this.page.locator('button.fold[aria-expanded=false]');
    if (await fold.count()) await fold.click();
    return this.page.locator('li[data-finding]').evaluateAll((rows) =>
      rows.map((row) => {
        const d = (row as HTMLElement).dataset;
        return {
          id: d['finding'] ?? '',
          subject: d['subject'] ?? '',
          state: d['state'] ?? '',
          loadCase: d['case'] ?? '',
          text: row.textContent ?? '',
        };
      }),
    );
  }

  async failing(): Promise<string[]> {
    return (await this.findings()).filter((f) => f.state === 'fails').map((f) => f.id);
  }

  /** Presses a button that hands a file to the downloads, and reads the file. */
  async downloaded(button: Locator): Promise<{ name: string; bytes: Buffer }> {
    // Chromium drops the eleventh download of a page within a second, without a word: nobody clicks so fast
    await new Promise((resolve) => setTimeout(resolve, this.mayDownload - performance.now()));
    const [download] = await Promise.all([this.page.waitForEvent('download'), button.click()]);
    this.mayDownload = performance.now() + 120;
    const stream = await download.createReadStream();
    const pieces: Buffer[] = [];
    for await (const piece of stream) pieces.push(piece as Buffer);
    return { name: download.suggestedFilename(), bytes: Buffer.concat(pieces) };
  }

  /** Saves under another name, which a browser without pickers downloads; gives the job as plain JSON. */
  async saveAs(): Promise<string> {
    const { name, bytes } = await this.downloaded(this.button('Save as'));
    return writeJob(readJobFile(name, bytes).job);
  }

  /** Drops a file on a place of the page. */
  async drop(target: string, file: { name: string; type?: string; bytes: Buffer }): Promise<void> {
    const transfer = await this.page.evaluateHandle(
      ([name, type, base64]) => {
        const bytes = Uint8Array.from(atob(base64!), (c) => c.charCodeAt(0));
        const carried = new DataTransfer();
        carried.items.add(new File([bytes], name!, { type: type! }));
        return carried;
      },
      [file.name, file.type ?? '', file.bytes.toString('base64')],
    );
    await this.page.dispatchEvent(target, 'dragover', { dataTransfer: transfer });
    await this.page.dispatchEvent(target, 'drop', { dataTransfer: transfer });
    await transfer.dispose();
  }

  /** What was said last: bad notices stay above it. */
  get notice(): Locator {
    return this.page.locator('.notice').last();
  }
}

interface Watched {
  readonly page: Page;
  readonly errors: () => Promise<string[]>;
}

async function watched(browser: Browser, options: BrowserContextOptions): Promise<Watched> {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const errors = await watch(page);
  await page.addInitScript(withoutPickers);
  return { page, errors };
}

/** Takes the page away from what it shows and forgets what it stored, as one that nobody has used yet. */
async function asNew({ page, errors }: Watched, origin: string, viewport: ViewportSize): Promise<void> {
  await page.goto('about:blank');
  const control = await page.context().newCDPSession(page);
  const storageTypes = 'cookies,local_storage,indexeddb,file_systems,cache_storage';
  await control.send('Storage.clearDataForOrigin', { origin, storageTypes });
  await control.detach();
  await page.setViewportSize(viewport);
  await page.mouse.move(0, 0);
  await errors();
}

interface Options {
  /** Errors that a test brings about on purpose. */
  readonly allowed: RegExp | null;
  /** A page of its own, for a test that wants another screen than the rest. */
  readonly ownPage: boolean;
}

/**
 * The page on its example, without file pickers; errors of the page fail the test. A worker opens one page and loads it anew
 * for each test: starting a page's process costs as much as loading it.
 */
export const test = base.extend<Options & { bench: Bench }, { kept: Watched }>({
  allowed: [null, { option: true }],
  ownPage: [false, { option: true }],
  kept: [
    async ({ browser }, use, { project }) => {
      const { baseURL, viewport } = project.use;
      const kept = await watched(browser, { baseURL, viewport });
      await use(kept);
      await kept.page.context().close();
    },
    { scope: 'worker' },
  ],
  bench: async ({ browser, kept, allowed, ownPage, baseURL, viewport, deviceScaleFactor }, use) => {
    const own = ownPage ? await watched(browser, { baseURL, viewport, deviceScaleFactor }) : null;
    if (!own) await asNew(kept, new URL(baseURL!).origin, viewport!);
    const { page, errors } = own ?? kept;
    const bench = new Bench(page);
    await bench.open();
    await use(bench);
    expect((await errors()).filter((line) => !allowed?.test(line))).toEqual([]);
    await own?.page.context().close();
  },
});
