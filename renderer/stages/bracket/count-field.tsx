import type { Path } from '../../../core/job';
import { ChoiceField } from '../../ui/fields';

/** A small whole number by choice, from 1. */
export function CountField(props: { label: string; path: Path; most: number; fallback?: number }): React.JSX.Element {
  const { label, path, most, fallback = 1 } = props;
  const options = Array.from({ length: most }, (_, i) => [i + 1, String(i + 1)] as const);
  return <ChoiceField label={label} path={path} options={options} fallback={fallback} />;
}
