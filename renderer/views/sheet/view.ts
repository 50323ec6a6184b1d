import Konva from 'konva/lib/Core';
import { createContext, useContext, useLayoutEffect, useRef } from 'react';
import type { Vec3 } from '../../../core/space';
import type { Host } from '../../host/host';
import { relationStore } from '../../state/relations';
import type { Plane } from '../../state/planes';
import { type BenchState, bench } from '../../state/store';
import { placesStore } from '../../state/places';
import { survey } from '../../state/survey';
import { worksMap } from '../../state/works-map';
import { zoneTool } from '../../state/zone-tool';
import { type Palette, readPalette } from './palette';
import { PROJECTIONS, type Projection, type Size, toPx } from './projection';
import type { Scene } from './scene';
import { type Seen, seen } from './seen';

// A pass draws what changed, in the frame it is asked for: nothing may be put off to the next one.
Konva.autoDrawEnabled = false;

/** What a view shows: handed to everything in its scene graph at every pass. */
export interface Look {
  readonly state: BenchState;
  readonly seen: Seen;
  readonly scene: Scene;
  readonly projection: Projection;
  readonly size: Size;
  readonly palette: Palette;
  /** The point under the pointer. */
  readonly hovered: string | null;
  /** Base-frame point, mm → view pixels. */
  at(p: Vec3): [number, number];
  /** Place on paper (mm right, mm up; right already signed) → view pixels, and back. */
  paperPx(mm: readonly [number, number]): [number, number];
  paperMm(x: number, y: number): [number, number];
}

/** One drawn view beside its scene graph: what it shows, who follows it, and when its layers are drawn. */
export class View {
  readonly projection: Projection;
  stage: Konva.Stage | null = null;
  /** What the pointer holds: Escape lets go of it. */
  held: { letGo(): void } | null = null;
  /** Where the pointer is on the page, to the part of a pixel that only pointer events tell (Konva drags by mouse events). */
  pointer = { x: 0, y: 0 };
  /** Whether it is a finger. */
  touching = false;
  private aimed: ((at: [number, number] | null) => void) | null = null;
  private size: Size = { width: 0, height: 0 };
  private hovered: string | null = null;
  private palette: Palette;
  private made: { readonly key: readonly unknown[]; readonly look: Look } | null = null;
  /** What each layer was drawn from. */
  private readonly drawn = new Map<string, readonly unknown[]>();
  private readonly followers = new Set<(look: Look) => void>();

  constructor(
    private readonly element: HTMLElement,
    readonly plane: Plane,
    readonly host: Host,
  ) {
    this.projection = PROJECTIONS[plane];
    this.palette = readPalette(element);
  }

  get look(): Look {
    const state = bench.getState();
    const { size, hovered } = this;
    const key = [state, size, hovered];
    if (this.made && key.every((part, i) => part === this.made!.key[i])) return this.made.look;
    if (state.theme !== this.made?.look.state.theme) this.palette = readPalette(this.element);
    const { projection, palette } = this;
    const { right, rightSign, up } = projection;
    const { centre, pxPerMm } = state.sheet;
    const now = seen(state);
    const look: Look = {
      ...{ state, seen: now, scene: now.scene, projection, size, palette, hovered },
      at: (p) => toPx(p, projection, state.sheet, size),
      paperPx: (mm) => [
        size.width / 2 + (mm[0] - rightSign * centre[right]) * pxPerMm,
        size.height / 2 - (mm[1] - centre[up]) * pxPerMm,
      ],
      paperMm: (x, y) => [
        rightSign * centre[right] + (x - size.width / 2) / pxPerMm,
        centre[up] - (y - size.height / 2) / pxPerMm,
      ],
    };
    this.made = { key, look };
    return look;
  }

  /** Where the pointer is in the view, px. */
  get pointerPx(): [number, number] {
    const box = this.element.getBoundingClientRect();
    return [this.pointer.x - box.left, this.pointer.y - box.top];
  }

  /** Who is told where a finger is about to place a mark. */
  onAim(run: (at: [number, number] | null) => void): () => void {
    this.aimed = run;
    return () => (this.aimed = null);
  }

  /** A finger is about to place a mark here, or no longer: false where nobody places any. */
  aim(at: [number, number] | null): boolean {
    this.aimed?.(at);
    return this.aimed !== null;
  }

  resize(size: Size): void {
    this.size = size;
    this.drawn.clear();
  }

  /** The point under the pointer, for its name. */
  hover(pointId: string | null): void {
    if (pointId === this.hovered) return;
    this.hovered = pointId;
    this.pass();
  }

  /** Calls back with what is shown now, and at every pass where that changed. */
  follow(run: (look: Look) => void): () => void {
    this.followers.add(run);
    run(this.look);
    return () => this.followers.delete(run);
  }

  /** Moves the nodes and draws the layers that show something else than before; at most once a frame is enough. */
  pass(): void {
    const { look, stage } = this;
    if (!stage) return;
    const { sheet, theme, wizard, tool, selection, resolved, stage: work, units, drag, pulls, caseId } = look.state;
    const common = [sheet, theme, wizard, tool, units];
    const photo = selection?.kind === 'photo' ? selection : null;
    const others = [survey.getState(), relationStore.getState(), placesStore.getState(), zoneTool.getState()];
    const photos = this.changed('photos', [...common, photo, resolved.photos, resolved.observations]);
    const lid = this.changed('lid', [...common, look.scene.lidKey, worksMap.getState(), work]);
    const scene = this.changed('scene', [
      ...[...common, ...others, look.seen, look.hovered, resolved, selection, work, drag, pulls, caseId],
    ]);
    if (photos || lid || scene) for (const run of this.followers) run(look);
    const stems = work === 'joints';
    this.draw('photos', photos, resolved.photos.length > 0 || wizard !== null);
    this.draw('lid', lid, true);
    this.draw('scene', scene, true);
    this.draw('handles', scene && (!drag || stems), stems);
  }

  /** Draws a layer; one in which nothing is to be seen is kept off the screen, where it would cost as much as any. */
  private draw(name: string, changed: boolean, seen: boolean): void {
    const layer = this.stage?.getLayers().find((l) => l.name() === name);
    if (!layer || !changed) return;
    layer.getNativeCanvasElement().style.visibility = seen ? '' : 'hidden';
    if (seen) layer.drawScene();
    // nothing is looked for under the pointer while it drags
    if (layer.listening() && !this.look.state.drag) layer.drawHit();
  }

  /** Draws all of it again: a picture has come. */
  again(): void {
    this.drawn.clear();
    this.pass();
  }

  private changed(layer: string, key: readonly unknown[]): boolean {
    const had = this.drawn.get(layer);
    if (had && key.every((part, i) => part === had[i])) return false;
    this.drawn.set(layer, key);
    return true;
  }
}

const ViewContext = createContext<View | null>(null);
export const ViewProvider = ViewContext.Provider;

/** The view that a node of a scene graph is in. */
export function useView(): View {
  const view = useContext(ViewContext);
  if (!view) throw new Error('a node of the drawn views stands outside of any view');
  return view;
}

/** Runs at once and at every pass with what the view shows: moves nodes by reference, without React. */
export function useFollow(run: (look: Look) => void): void {
  const view = useView();
  const latest = useRef(run);
  useLayoutEffect(() => {
    latest.current = run;
  });
  useLayoutEffect(() => view.follow((look) => latest.current(look)), [view]);
}
