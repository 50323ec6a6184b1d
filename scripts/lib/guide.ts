// The guide: Markdown in docs/, rendered while the page is built. What the guide links to stays in the guide, and what it
// shows lies in assets/: nothing comes from elsewhere.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { Marked } from 'marked';

/** A page as the program shows it. */
export interface GuidePage {
  readonly title: string;
  readonly html: string;
  /** Headings of the second rank. */
  readonly parts: readonly { readonly anchor: string; readonly title: string }[];
}

/** Where a link of a page leads: `page` and, where it says so, `anchor` in it. */
export interface GuideLink {
  readonly page: string;
  readonly anchor: string;
}

const plain = (text: string): string =>
  text
    .replace(/<[^>]*>/g, '')
    .replace(/[`*]/g, '')
    .trim();

/** A heading's own anchor (`<a id="…"></a>` before its words), else one made of its words. */
const anchorOf = (text: string): string =>
  /<a id="([^"]+)">/.exec(text)?.[1] ??
  plain(text)
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '');

/** Name of the page that a Markdown file is shown as. */
export const pageName = (file: string): string => path.basename(file, '.md').toLowerCase();

/** Renders one page; `found` is told every link, anchor and picture. Throws where a link leads out of the guide. */
export function renderGuide(
  markdown: string,
  name: string,
  found: { link?: (to: GuideLink) => void; anchor?: (anchor: string) => void; picture?: (file: string) => void } = {},
): GuidePage {
  const parts: { anchor: string; title: string }[] = [];
  let title = '';
  const marked = new Marked({
    renderer: {
      heading({ depth, tokens, text }) {
        const anchor = anchorOf(text);
        const words = plain(this.parser.parseInline(tokens));
        if (depth === 1) title = words;
        if (depth === 2) parts.push({ anchor, title: words });
        found.anchor?.(anchor);
        return `<h${depth} id="guide-${anchor}" tabindex="-1">${words}</h${depth}>\n`;
      },
      link({ href, tokens }) {
        const [, file, anchor = ''] = /^([\w./-]*?\.md)?(?:#(.+))?$/.exec(href) ?? [];
        if (file === undefined && anchor === '') throw new Error(`${name}: “${href}” leads out of the guide.`);
        const to = { page: file === undefined ? name : pageName(file), anchor };
        found.link?.(to);
        return `<a href="?guide=${to.page}${anchor && `/${anchor}`}">${this.parser.parseInline(tokens)}</a>`;
      },
      image({ href, text }) {
        const file = /^\.\.\/assets\/(.+)$/.exec(href)?.[1];
        if (file === undefined) throw new Error(`${name}: the picture “${href}” does not lie in assets.`);
        found.picture?.(file);
        return `<img src="./${file}" alt="${text}" loading="lazy">`;
      },
      table(token) {
        const row = (cells: typeof token.header, tag: string): string =>
          `<tr>${cells.map((cell) => `<${tag}>${this.parser.parseInline(cell.tokens)}</${tag}>`).join('')}</tr>`;
        const body = token.rows.map((cells) => row(cells, 'td')).join('\n');
        // a wide table scrolls by itself; the keyboard must reach it to do so
        return `<div class="guide-table" tabindex="0" role="group" aria-label="Table"><table><thead>${row(token.header, 'th')}</thead><tbody>${body}</tbody></table></div>\n`;
      },
      code: ({ text }) => `<pre tabindex="0"><code>${text.replace(/&/g, '&amp;').replace(/</g, '&lt;')}</code></pre>\n`,
    },
  });
  const html = marked.parse(markdown, { async: false });
  return { title, html, parts };
}

/** For the build: a Markdown file that is imported is its page. */
export const guidePages = () => ({
  name: 'guide-pages',
  enforce: 'pre' as const,
  load(id: string): string | null {
    if (!id.endsWith('.md')) return null;
    return `export default ${JSON.stringify(renderGuide(readFileSync(id, 'utf8'), pageName(id)))};`;
  },
});
