import { setValue } from '../../../core/job';
import { edit } from '../../state/store';
import { Part } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import type { One } from './context';

/** What stays as it is while edges and holes are dragged. */
export function KeepPart({ one: { raw, at } }: { one: One }): React.JSX.Element {
  const set = (key: 'mirrored' | 'fromEnd', on: boolean): void => {
    edit('Set what stays while dragging', (job) =>
      setValue(job, { path: at('keep', key), value: on ? true : undefined }),
    );
  };
  return (
    <Part title="Kept while dragging" folded>
      <label className="check">
        <input
          type="checkbox"
          name={at('keep', 'mirrored').join('.')}
          checked={raw.keep?.mirrored === true}
          onChange={(e) => set('mirrored', e.target.checked)}
        />{' '}
        Holes mirrored about the centre line
      </label>
      <label className="check">
        <input
          type="checkbox"
          name={at('keep', 'fromEnd').join('.')}
          checked={raw.keep?.fromEnd === true}
          onChange={(e) => set('fromEnd', e.target.checked)}
        />{' '}
        Holes go along with their end
      </label>
      <NumberField label="To every edge at least" path={at('keep', 'edgeMm')} dimension="length" optional />
    </Part>
  );
}
