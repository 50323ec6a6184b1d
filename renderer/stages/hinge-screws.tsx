import { setValue } from '../../core/job';
import { DEFAULTS, WOODS, woodRow } from '../../core/strength';
import { edit } from '../state/store';
import { useBench } from '../state/use-bench';
import { ChoiceField } from '../ui/fields';
import { NumberField } from '../ui/number-field';

const AT = ['hinge', 'screws'];

/** Wood screws that hold the hinges: the leaf that holds less. */
export function HingeScrews(): React.JSX.Element {
  const screws = useBench((s) => s.history.present.hinge.screws);
  const set = (label: string, value: unknown) => edit(label, (job) => setValue(job, { path: AT, value }));
  if (!screws)
    return (
      <button
        type="button"
        title="Asks what the screws of one hinge leaf bear of the hinge’s load"
        onClick={() =>
          set('Say what screws hold the hinges', {
            ...{ count: 3, diameterMm: 4, lengthMm: 20, material: 'Softwood C16', thicknessMm: 20 },
          })
        }
      >
        Hinges screwed into wood…
      </button>
    );
  const known = woodRow(screws.material);
  return (
    <div className="group">
      <ChoiceField
        label="Screws in one leaf"
        path={[...AT, 'count']}
        options={Array.from({ length: Math.max(12, screws.count) }, (_, i) => [i + 1, String(i + 1)] as const)}
      />
      <NumberField label="Screw diameter" path={[...AT, 'diameterMm']} dimension="length" />
      <NumberField label="Screw length" path={[...AT, 'lengthMm']} dimension="length" />
      <ChoiceField
        label="Screwed into"
        path={[...AT, 'material']}
        options={[
          ...(known?.id === screws.material ? [] : [[screws.material, screws.material] as const]),
          ...WOODS.map((w) => [w.id, w.id] as const),
        ]}
      />
      <NumberField label="Wood thickness" path={[...AT, 'thicknessMm']} dimension="length" />
      <ChoiceField
        label="It stands"
        path={[...AT, 'serviceClass']}
        fallback={DEFAULTS.serviceClass}
        options={[
          [1, 'indoors, dry'],
          [2, 'under a roof'],
          [3, 'in the weather'],
        ]}
      />
      <button type="button" onClick={() => set('Hinges not in wood', undefined)}>
        Not screwed into wood
      </button>
    </div>
  );
}
