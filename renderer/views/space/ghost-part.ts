import { Group } from 'three';
import { toRad } from '../../../core/space';
import { poseAt } from '../../../core/travel';
import type { Figure } from './figure';
import type { Inks } from './ink';
import { InkLines } from './lines';
import { Segments, dashed } from './segments';
import type { Ghost } from './types';

/** Places found for the strut, as lines from ball to ball: dashed, the one that is looked at whole. */
export class GhostPart {
  readonly group = new Group();
  private readonly others: InkLines;
  private readonly chosen: InkLines;
  private readonly out = new Segments(256);

  constructor(inks: Inks) {
    this.others = new InkLines(inks.narrow, 256);
    this.chosen = new InkLines(inks.marker, 64);
    this.group.add(this.others.object, this.chosen.object);
  }

  update(figure: Figure, ghosts: readonly Ghost[], angleDeg: number, sizeMm: number): void {
    const { axis } = figure;
    const draw = (lines: InkLines, own: boolean, pattern: readonly number[]): void => {
      const out = this.out.clear();
      for (const { base, lid, chosen } of ghosts)
        if (chosen === own) dashed([base, axis ? poseAt(axis, lid, toRad(angleDeg)) : lid], pattern, out);
      lines.set(out);
    };
    draw(this.others, false, [sizeMm / 60, sizeMm / 100]);
    draw(this.chosen, true, []);
  }

  dispose(): void {
    this.others.dispose();
    this.chosen.dispose();
  }
}
