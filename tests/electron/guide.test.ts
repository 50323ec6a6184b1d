// The guide in docs/: made pages and pictures are up to date, no link or picture is dead, every finding has its place, and
// it says nothing that was given up (words.test.ts).
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { CHECK_NAMES, checkNameOf } from '../../core/findings';
import { type GuideLink, pageName, renderGuide } from '../../scripts/lib/guide';
import { madeFiles } from '../../scripts/lib/guide-made';

const ROOT = path.resolve(import.meta.dirname, '../..');
const read = (file: string): string => readFileSync(path.join(ROOT, file), 'utf8');

const files = [
  ...readdirSync(path.join(ROOT, 'docs'))
    .filter((file) => file.endsWith('.md'))
    .map((file) => `docs/${file}`),
  'DEVELOPERS.md',
];

/** Every page, with what it links to, what can be linked to, and what it shows. */
const pages = new Map(
  files.map((file) => {
    const found = { links: [] as GuideLink[], anchors: [] as string[], pictures: [] as string[] };
    const page = renderGuide(read(file), pageName(file), {
      link: (to) => found.links.push(to),
      anchor: (anchor) => found.anchors.push(anchor),
      picture: (picture) => found.pictures.push(picture),
    });
    return [pageName(file), { ...page, ...found }] as const;
  }),
);

/** Ids that a finding can have, as the checks write them; those that end in a thing's own name up to it. */
const idsInChecks = (): string[] =>
  readdirSync(path.join(ROOT, 'core/findings'))
    .filter((file) => file !== 'about.ts')
    .flatMap((file) => [...read(`core/findings/${file}`).matchAll(/\bid: ['`]([a-z-]+)(?:\$\{.*?\})?['`]/g)])
    .map((match) => match[1]!);

/** What no link may lead to, of some links. */
const dead = (links: readonly GuideLink[]): GuideLink[] =>
  links.filter(({ page, anchor }) => !(anchor === '' ? pages.has(page) : pages.get(page)?.anchors.includes(anchor)));

describe('guide', () => {
  it('has its made pages and pictures up to date: npm run guide', () => {
    for (const [file, content] of madeFiles()) expect(read(file) === content, file).toBe(true);
  });
  it('links to nothing that is not there, and shows no picture that is not there', () => {
    expect([...pages.values()].flatMap((page) => dead(page.links))).toEqual([]);
    expect(dead([{ page: 'start', anchor: 'no-such-place' }])).toHaveLength(1);
    const pictures = [...pages.values()].flatMap((page) => page.pictures);
    expect(pictures.filter((file) => !existsSync(path.join(ROOT, 'assets', file)))).toEqual([]);
    expect(pictures.length).toBeGreaterThan(10);
    expect(() => renderGuide('[out](https://example.org/)', 'x')).toThrow('leads out of the guide');
  });
  it('shows every picture that is made for it', () => {
    const shown = new Set([...pages.values()].flatMap((page) => page.pictures.map((file) => path.basename(file))));
    expect(readdirSync(path.join(ROOT, 'assets/guide')).filter((file) => !shown.has(file))).toEqual([]);
  });
  it('has a place for every finding', () => {
    const { anchors } = pages.get('findings')!;
    expect(CHECK_NAMES.filter((name) => !anchors.includes(name))).toEqual([]);
    const ids = idsInChecks();
    expect(ids.length).toBeGreaterThan(25);
    expect(ids.filter((id) => checkNameOf(id.replace(/-$/, '')) === null)).toEqual([]);
  });
  it('has one title and no anchor twice on each page, and every page is in the list', () => {
    const order = read('renderer/guide/index.tsx');
    for (const [name, page] of pages) {
      expect(page.title, name).not.toBe('');
      expect(new Set(page.anchors).size, name).toBe(page.anchors.length);
      expect(order.includes(`'${name}'`), name).toBe(true);
    }
  });
});
