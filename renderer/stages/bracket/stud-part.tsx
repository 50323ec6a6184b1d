import { clearanceHolesMm, isBent, type ThreadName } from '../../../core/bracket';
import { THREAD_NAMES } from '../../../core/job';
import { DEFAULTS, PROPERTY_CLASSES } from '../../../core/strength';
import { edit } from '../../state/store';
import { ChoiceField, Part } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import { changeBracket, type One } from './context';

/** Classes by name, once each. */
const CLASS_NAMES: readonly string[] = [...new Set(PROPERTY_CLASSES.map((row) => row.name))];

export const classOptions = (typed: string | undefined, usual: string): (readonly [string, string])[] => [
  ...(typed !== undefined && !CLASS_NAMES.includes(typed) ? [[typed, `${typed} (in no table)`] as const] : []),
  ...CLASS_NAMES.map((name) => [name, name === usual && typed === undefined ? `${name} (usual)` : name] as const),
];

/** A thread by name; choosing one drills its hole to suit. */
export function ThreadField(props: {
  label: string;
  name: string;
  value: ThreadName | null;
  typed: boolean;
  onChange: (thread: ThreadName) => void;
}): React.JSX.Element {
  const { label, name, value, typed, onChange } = props;
  return (
    <div className="field">
      <label>
        {label}{' '}
        <span className="entry">
          <select name={name} value={value ?? ''} onChange={(e) => onChange(e.target.value as ThreadName)}>
            {value === null && <option value="">none fits the hole</option>}
            {THREAD_NAMES.map((thread) => (
              <option key={thread} value={thread}>
                {thread}
                {!typed && thread === value ? ' (by the hole)' : ''}
              </option>
            ))}
          </select>
        </span>
      </label>
    </div>
  );
}

/** The stud, or a channel's pin, with its hole and where the ball sits. */
export function StudPart({ one }: { one: One }): React.JSX.Element {
  const { raw, spec, at, index } = one;
  const bent = isBent(spec);
  const pin = spec.kind === 'channel';
  const name = pin ? 'Pin' : 'Stud';
  const take = (thread: ThreadName): void => {
    edit(`Set the ${name.toLowerCase()}’s thread`, (job) =>
      changeBracket(index, (b) => ({
        ...b,
        stud: { ...b.stud, thread },
        studHole:
          typeof b.studHole.diameterMm === 'number'
            ? { ...b.studHole, diameterMm: clearanceHolesMm[thread].fine }
            : b.studHole,
      }))(job),
    );
  };
  return (
    <Part title={pin ? 'Pin' : 'Stud and ball'}>
      {!pin && spec.kind !== 'wedge-plate' && (
        <ChoiceField
          label="Ball on the"
          path={at('ballSide')}
          fallback="outside"
          options={
            bent
              ? [
                  ['outside', 'outside face'],
                  ['inside', 'inside, over the base'],
                ]
              : [
                  ['outside', 'face away from the mount'],
                  ['inside', 'face to the mount'],
                ]
          }
        />
      )}
      {!pin && <NumberField label="Ball before the face" path={at('ballOffsetMm')} dimension="length" />}
      <ThreadField
        label={`${name} thread`}
        name={at('stud', 'thread').join('.')}
        value={spec.studThread}
        typed={raw.stud !== undefined}
        onChange={take}
      />
      <ChoiceField
        label={`${name} class`}
        path={at('stud', 'propertyClass')}
        options={classOptions(raw.stud?.propertyClass, DEFAULTS.studClass)}
        fallback={DEFAULTS.studClass}
        ensure={changeBracket(index, (b) => ({ ...b, stud: b.stud ?? { thread: spec.studThread ?? 'M8' } }))}
      />
      <NumberField label={`${name} hole ⌀`} path={at('studHole', 'diameterMm')} dimension="length" />
      {bent ? (
        <NumberField label={`${name} hole height`} path={at('studHole', 'heightMm')} dimension="length" />
      ) : (
        <NumberField label="Stud hole from its end" path={at('studHole', 'fromEndMm')} dimension="length" />
      )}
      <NumberField
        label={`${name} off the centre line`}
        path={at('studHole', 'acrossMm')}
        dimension="length"
        fallback={0}
        optional
      />
    </Part>
  );
}
