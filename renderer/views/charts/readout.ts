import { type ShownUnits, formatQuantity, fromShown } from '../../../core/quantity';
import { valueOfRow } from '../../../core/travel';
import { type ChartLine, type ChartModel } from './model';

/** The lines that the readout and the dots follow: those of the chosen load case, else of the first; all where cases make no difference. */
export function followedLines(model: ChartModel, caseId: string | null): ChartLine[] {
  // kept variants belong to no load case: they must not stand in for the first one where none is chosen
  const known =
    caseId !== null && model.lines.some((l) => l.caseId === caseId) ? caseId : (model.lines[0]?.caseId ?? null);
  return model.lines.filter((l) => l.caseId === known);
}

/** "θ 35.0° · As used, 20 °C: opening 120 N, closing −35 N". */
export function readoutText(model: ChartModel, units: ShownUnits, caseId: string | null, angleDeg: number): string {
  const lines = followedLines(model, caseId);
  const groups = new Map<string, string[]>();
  for (const line of lines) {
    const value = valueOfRow(model.angleDeg, line.values, angleDeg);
    const shown =
      value === null
        ? 'not known here'
        : formatQuantity(fromShown(value, model.dimension, units), model.dimension, units);
    const group = groups.get(line.name) ?? [];
    group.push(line.role === 'length' ? shown : `${line.role} ${shown}`);
    groups.set(line.name, group);
  }
  return `θ ${formatQuantity(angleDeg, 'angle', units)} · ${[...groups].map(([name, parts]) => `${name}: ${parts.join(', ')}`).join(' · ')}`;
}
