import { useState } from 'react';
import { useStore } from 'zustand';
import { formatQuantity } from '../../../core/quantity';
import { type Wish, askWish, wishStore, wished } from '../../state/places';
import { edit } from '../../state/store';
import { useBench, useMade } from '../../state/use-bench';
import { Part } from '../../ui/fields';

/** What a wish would come to, while a slider is pulled; nothing changes until it is applied. */
export function WishesPart(): React.JSX.Element {
  const { openDeg, handN } = useMade(({ resolved: { travel, limits } }) => ({ openDeg: travel.openDeg, handN: limits.handOpenN })); // prettier-ignore
  return (
    <Part title="What if you wished for more?" folded>
      <p className="hint">Pull, and see what the best place would be; nothing changes until you apply it.</p>
      <WishSlider
        wish="openDeg"
        label="It might open to"
        now={openDeg}
        min={Math.max(20, openDeg - 30)}
        max={Math.min(170, openDeg + 30)}
        step={1}
        dimension="angle"
      />
      <WishSlider
        wish="handN"
        label="A hand might have to do, at most"
        now={handN}
        min={20}
        max={Math.max(200, 2 * handN)}
        step={5}
        dimension="force"
      />
    </Part>
  );
}

function WishSlider({
  wish,
  label,
  now,
  min,
  max,
  step,
  dimension,
}: {
  wish: Wish;
  label: string;
  now: number;
  min: number;
  max: number;
  step: number;
  dimension: 'angle' | 'force';
}): React.JSX.Element {
  const [value, setValue] = useState<number | null>(null);
  const units = useBench((s) => s.units);
  const { told, busy } = useStore(wishStore);
  const mine = told?.wish === wish && told.value === value;
  const shown = value ?? now;
  return (
    <div className="wish">
      <span>
        {label} <b>{formatQuantity(shown, dimension, units)}</b>
      </span>
      <input
        type="range"
        aria-label={label}
        {...{ min, max, step }}
        value={shown}
        onChange={(e) => {
          const to = Number(e.target.value);
          setValue(to);
          void askWish(wish, to, null);
        }}
      />
      {value !== null && (
        <div className="row">
          <span role="status" className="hint">
            {mine ? told.words : busy ? 'Looking…' : ''}
          </span>
          <button
            type="button"
            disabled={value === now}
            onClick={() => {
              if (edit(`Set ${label.toLowerCase()}`, (job) => wished(job, wish, value))) setValue(null);
            }}
          >
            Apply
          </button>
        </div>
      )}
    </div>
  );
}
