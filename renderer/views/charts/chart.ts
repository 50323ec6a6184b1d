import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import './charts.css';
import { valueOfRow } from '../../../core/travel';
import { type ChartLine, type ChartModel, DASHES, chartModel } from './model';
import { ChartKey } from './key';
import {
  type ChartInks,
  paintAreas,
  paintBandWords,
  paintBands,
  paintEnvelope,
  paintLabels,
  paintMarks,
  readInks,
} from './paint';
import { followedLines, readoutText } from './readout';
import type { ChartOptions, ChartState } from './types';

const NOTHING = 'Nothing to plot yet: the job can’t be worked out. The findings say what is missing.';
/** From this width on, names stand at the line ends. */
const WIDE_PX = 520;
const GUTTER_PX = { words: 74, names: 172 } as const;
/** Left of the plot: the numbers of its scale. The ruler under it begins there too. */
const SCALE_PX = 56;
/** Most numbers on the scale. */
const MOST_TICKS = 6;
/** Below this height the key gives its room to the plot, but for kept variants. */
const SHORT_PX = 190;

const element = (tag: string, name: string): HTMLElement => {
  const made = document.createElement(tag);
  made.className = name;
  return made;
};

/** One chart over the travel, its cursor tied to the opening angle; dragging on it scrubs. */
export class TravelChart {
  private readonly root = element('div', 'travel-chart');
  private readonly title = element('span', 'travel-chart-title');
  private readonly readout = element('span', 'travel-chart-readout');
  private readonly plot = element('div', 'travel-chart-plot');
  private readonly note = element('p', 'travel-chart-note');
  private readonly cursor = element('div', 'travel-chart-cursor');
  private readonly key = new ChartKey();
  private readonly observer: ResizeObserver;
  private dots: HTMLElement[] = [];
  private chart: uPlot | null = null;
  private chartKey = '';
  private model: ChartModel | null = null;
  private inks: ChartInks | null = null;
  private state: ChartState | null = null;
  private dragging = false;

  constructor(
    private readonly host: HTMLElement,
    private readonly options: ChartOptions,
  ) {
    const head = element('div', 'travel-chart-head');
    head.append(this.title, this.readout);
    this.note.textContent = NOTHING;
    this.root.append(head, this.note, this.plot, this.key.list);
    host.append(this.root);
    this.observer = new ResizeObserver(() => this.setSize());
    this.observer.observe(host);
    // the plot changes without the host when the key or the head takes another line
    this.observer.observe(this.plot);
  }

  /** Shows a state. A new angle alone moves the cursor; new numbers of the same lines are put in place. */
  show(state: ChartState): void {
    const last = this.state;
    this.state = state;
    const inked = last?.theme === state.theme && this.inks !== null;
    if (!inked) {
      this.root.dataset['theme'] = state.theme;
      this.inks = readInks(this.root);
    }
    if (!state.outcome) return this.clear();
    const sameNumbers =
      this.model &&
      last?.outcome === state.outcome &&
      last.kind === state.kind &&
      sameUnits(last, state) &&
      last.variants === state.variants &&
      last.band === state.band &&
      last.proof === state.proof &&
      ((state.kind !== 'hand' && !state.variants?.length) || last.caseId === state.caseId);
    const moved = sameNumbers && inked && last.caseId === state.caseId;
    if (!sameNumbers) {
      this.model = chartModel(
        state.outcome,
        state.kind,
        state.units,
        this.model ?? undefined,
        state.variants,
        state.caseId,
        state.band ?? null,
        state.proof ?? null,
      );
      this.root.dataset['marks'] = String(this.model.marks.length);
      if (this.model.key !== this.chartKey) this.build();
      else this.refill();
    } else if (!moved) this.restyle();
    if (moved) this.follow();
  }

  /** Takes up the host's size; also called by a ResizeObserver. */
  setSize(): void {
    if (!this.chart || !this.model) return;
    this.arrange();
    const { width, height } = this.plotSize();
    if (width === this.chart.width && height === this.chart.height) return;
    // the gutter for names is settled when the chart is made
    if (this.gutterPx() !== this.builtGutterPx) return (this.build(), this.follow());
    this.chart.setSize({ width, height });
  }

  dispose(): void {
    this.observer.disconnect();
    this.chart?.destroy();
    this.chart = null;
    this.root.remove();
  }

  private clear(): void {
    this.chart?.destroy();
    this.chart = null;
    this.chartKey = '';
    this.model = null;
    this.note.hidden = false;
    this.plot.hidden = this.key.list.hidden = true;
    this.title.textContent = this.readout.textContent = '';
  }

  private builtGutterPx = 0;

  private gutterPx(): number {
    const px = this.host.clientWidth >= WIDE_PX ? GUTTER_PX.names : GUTTER_PX.words;
    // the ruler under the plot ends where the plot does
    this.host.parentElement?.style.setProperty('--strip-right', `${px}px`);
    return px;
  }

  private plotSize(): { width: number; height: number } {
    return { width: Math.max(this.plot.clientWidth, 80), height: Math.max(this.plot.clientHeight, 60) };
  }

  private arrange(): void {
    this.key.fit(this.host.clientHeight < SHORT_PX);
  }

  private data(): uPlot.AlignedData {
    const { angleDeg, lines } = this.model!;
    return [angleDeg, ...lines.map((l) => l.values)] as uPlot.AlignedData;
  }

  /** A new chart: only when the lines themselves, the kind or the units changed. */
  private build(): void {
    const model = this.model!;
    this.chart?.destroy();
    this.chartKey = model.key;
    this.note.hidden = true;
    this.plot.hidden = false;
    this.title.textContent = `${model.title}, ${model.sign}`;
    this.key.rebuild(model);
    this.key.emphasise(this.state!.caseId);
    this.arrange();
    this.builtGutterPx = this.gutterPx();
    this.chart = new uPlot({ ...this.plotSize(), ...this.uplotOptions() }, this.data(), this.plot);
    const over = this.chart.over;
    over.tabIndex = 0;
    over.setAttribute('role', 'slider');
    over.setAttribute('aria-label', 'Opening angle, on the chart');
    over.append(this.cursor);
    this.dots = [];
    over.addEventListener('pointerdown', this.onDown);
    over.addEventListener('pointermove', this.onMove);
    over.addEventListener('pointerup', this.onUp);
    over.addEventListener('pointercancel', this.onUp);
    over.addEventListener('keydown', this.onKey);
  }

  private uplotOptions(): Omit<uPlot.Options, 'width' | 'height'> {
    const ink = (): string => this.inks!.ink;
    const axis = {
      stroke: ink,
      font: `11px ${this.inks!.family}`,
      gap: 3,
      grid: { stroke: () => this.inks!.faint, width: 1 },
      ticks: { stroke: () => this.inks!.soft, width: 1, size: 4 },
      border: { show: true, stroke: () => this.inks!.soft, width: 1 },
    };
    return {
      pxAlign: 1,
      padding: [8, this.builtGutterPx, 0, 0],
      legend: { show: false },
      cursor: { show: false, drag: { x: false, y: false } },
      select: { show: false, left: 0, top: 0, width: 0, height: 0 },
      scales: {
        x: { time: false, range: () => [0, this.model!.angleDeg.at(-1) || 1] },
        y: { range: () => [this.model!.minY, this.model!.maxY] },
      },
      axes: [
        { ...axis, size: 4, space: 44, values: () => [] },
        {
          ...axis,
          size: SCALE_PX,
          space: (_u, _i, _min, _max, px) => Math.max(26, px / (MOST_TICKS - 1)),
          values: (_u, ticks) => ticks.map(signed),
        },
      ],
      series: [
        {},
        ...this.model!.lines.map((line, i): uPlot.Series => ({
          label: `${line.tag} ${line.role}`.trim(),
          stroke: () => this.strokeOf(i),
          width: this.widthOf(i),
          dash: [...DASHES[line.dash]],
          points: { show: false },
          spanGaps: false,
          pxAlign: 0,
        })),
      ],
      hooks: {
        drawAxes: [
          (u) => paintEnvelope(u, this.model!, this.inks!),
          (u) => paintBands(u, this.model!, this.inks!),
          (u) => paintAreas(u, this.model!, this.inks!),
        ],
        draw: [
          (u) => paintMarks(u, this.model!, this.inks!),
          (u) => paintBandWords(u, this.model!, this.inks!),
          (u) => paintLabels(u, this.model!, this.inks!, this.drawn(), this.builtGutterPx),
          // uPlot settles its scales after setData returns: only now are positions right
          () => this.follow(),
        ],
      },
    };
  }

  /** Lines that are drawn: of the load cases the one that is followed; the band stands for the others. */
  private drawn(): ReadonlySet<ChartLine> {
    const { model } = this;
    return new Set([...model!.lines.filter((l) => l.caseId === null), ...followedLines(model!, this.state!.caseId)]);
  }

  private strokeOf(i: number): string {
    const line = this.model!.lines[i]!;
    if (!this.drawn().has(line)) return 'transparent';
    return line.caseId === null ? this.inks!.ink : this.inks!.accent;
  }

  private widthOf(i: number): number {
    return this.drawn().has(this.model!.lines[i]!) ? 2 : 0;
  }

  /** New numbers for the same lines. */
  private refill(): void {
    this.key.areas(this.model!);
    this.chart!.setData(this.data());
    this.restyle();
  }

  private restyle(): void {
    const chart = this.chart!;
    this.model!.lines.forEach((_, i) => (chart.series[i + 1]!.width = this.widthOf(i)));
    this.key.emphasise(this.state!.caseId);
    chart.redraw(false, false);
  }

  /** Cursor, dots and readout at the present angle. */
  private follow(): void {
    const { chart, model, state } = this;
    if (!chart || !model || !state) return;
    const open = model.angleDeg.at(-1) ?? 0;
    const angle = Math.min(Math.max(state.angleDeg, 0), open);
    const x = chart.valToPos(angle, 'x');
    this.cursor.style.transform = `translateX(${x - 0.75}px)`;
    const lines = followedLines(model, state.caseId);
    while (this.dots.length < lines.length) {
      const dot = element('div', 'travel-chart-dot');
      this.dots.push(dot);
      chart.over.append(dot);
    }
    this.dots.forEach((dot, i) => {
      const line = lines[i];
      const value = line ? valueOfRow(model.angleDeg, line.values, angle) : null;
      const shown = value !== null && value >= model.minY && value <= model.maxY;
      dot.style.display = shown ? 'block' : 'none';
      if (shown) dot.style.transform = `translate(${x}px, ${chart.valToPos(value, 'y')}px)`;
    });
    const text = readoutText(model, state.units, state.caseId, angle);
    this.readout.textContent = this.readout.title = text;
    const over = chart.over;
    over.setAttribute('aria-valuemin', '0');
    over.setAttribute('aria-valuemax', String(open));
    over.setAttribute('aria-valuenow', angle.toFixed(1));
    over.setAttribute('aria-valuetext', text);
  }

  private scrubTo(angleDeg: number): void {
    const open = this.model?.angleDeg.at(-1) ?? 0;
    this.options.onScrub(Math.min(Math.max(angleDeg, 0), open));
  }

  private readonly fromPointer = (event: PointerEvent): void => {
    const box = this.chart!.over.getBoundingClientRect();
    this.scrubTo(this.chart!.posToVal(event.clientX - box.left, 'x'));
  };

  private readonly onDown = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    this.dragging = true;
    this.chart!.over.setPointerCapture(event.pointerId);
    this.fromPointer(event);
  };

  private readonly onMove = (event: PointerEvent): void => {
    if (this.dragging) this.fromPointer(event);
  };

  private readonly onUp = (): void => {
    this.dragging = false;
  };

  private readonly onKey = (event: KeyboardEvent): void => {
    const at = this.state!.angleDeg;
    const step = event.shiftKey ? 10 : event.altKey ? 0.1 : 1;
    const to: Record<string, number> = {
      ArrowLeft: at - step,
      ArrowDown: at - step,
      ArrowRight: at + step,
      ArrowUp: at + step,
      PageDown: at - 10,
      PageUp: at + 10,
      Home: 0,
      End: Infinity,
    };
    const next = to[event.key];
    if (next === undefined) return;
    event.preventDefault();
    // these keys nudge points elsewhere on the bench
    event.stopPropagation();
    this.scrubTo(next);
  };
}

const sameUnits = (a: ChartState, b: ChartState): boolean =>
  a.units.length === b.units.length && a.units.force === b.units.force && a.units.temperature === b.units.temperature;

/** A tick's number with a true minus. */
const signed = (tick: number): string => String(Number(tick.toPrecision(10))).replace('-', '−');
