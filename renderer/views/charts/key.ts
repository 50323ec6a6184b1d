import { type ChartModel, type ChartLine, DASHES } from './model';

const SVG = 'http://www.w3.org/2000/svg';

/** A short sample of a line's dashes. */
function sample(dash: readonly number[]): SVGSVGElement {
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('aria-hidden', 'true');
  const line = document.createElementNS(SVG, 'line');
  for (const [name, value] of Object.entries({ x1: 0, y1: 4, x2: 28, y2: 4 })) line.setAttribute(name, String(value));
  if (dash.length > 0) line.setAttribute('stroke-dasharray', dash.join(' '));
  svg.append(line);
  return svg;
}

/** What dashes and tags stand for, in words. */
export class ChartKey {
  readonly list = document.createElement('ul');
  private readonly entries: { readonly item: HTMLLIElement; readonly caseId: string | null }[] = [];

  constructor() {
    this.list.className = 'travel-chart-key';
  }

  /** After the lines changed. */
  rebuild(model: ChartModel): void {
    this.entries.length = 0;
    this.list.replaceChildren();
    const roles = new Map<string, ChartLine>();
    for (const line of model.lines) if (!roles.has(line.role)) roles.set(line.role, line);
    if (roles.size > 1)
      for (const [role, line] of roles) {
        const item = document.createElement('li');
        item.append(sample(DASHES[line.dash]), role);
        this.list.append(item);
      }
    const cases = new Set(model.lines.flatMap((l) => l.caseId ?? []));
    if (cases.size > 1) {
      const item = document.createElement('li');
      item.dataset['band'] = '';
      item.textContent = `all ${cases.size} load cases`;
      this.list.append(item);
    }
    const tags = new Map<string, ChartLine>();
    for (const line of model.lines)
      if (line.caseId === null && line.tag !== '' && !tags.has(line.tag)) tags.set(line.tag, line);
    for (const [tag, line] of tags) {
      const item = document.createElement('li');
      const strong = document.createElement('b');
      strong.textContent = tag;
      // a kept variant is told from the load cases by its dashes too
      const aside = line.dash === 'dotted';
      item.append(strong, ...(aside ? [sample(DASHES.dotted)] : []), line.name);
      item.toggleAttribute('data-aside', aside);
      this.list.append(item);
      this.entries.push({ item, caseId: line.caseId });
    }
    this.areas(model);
    this.list.hidden = this.list.childElementCount === 0;
  }

  /** What the shaded areas stand for. */
  areas(model: ChartModel): void {
    for (const old of this.list.querySelectorAll('li[data-area]')) old.remove();
    for (const { text } of [...model.areas].reverse()) {
      const item = document.createElement('li');
      item.dataset['area'] = '';
      item.textContent = text;
      this.list.prepend(item);
    }
  }

  /** Where there is little room only what the plot's own labels may leave out stays: lines beside the load cases'. */
  fit(short: boolean): void {
    this.list.toggleAttribute('data-short', short);
    this.list.hidden = !this.list.querySelector(short ? 'li[data-aside], li[data-area]' : 'li');
  }

  emphasise(caseId: string | null): void {
    for (const entry of this.entries)
      entry.item.toggleAttribute('data-chosen', caseId !== null && entry.caseId === caseId);
  }
}
