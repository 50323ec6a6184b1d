import { useEffect, useRef, useState } from 'react';
import type { ShownUnits } from '../../core/quantity';
import type { Host, RecentJob } from '../host/host';
import { EXAMPLES, openExample, openFile, openRecentFile, saveFile } from '../state/files';
import { startFromPhoto } from '../state/photo-actions';
import { askFit, toggleTheme } from '../state/session';
import { isUnsaved, redoStep, setUnits, undoStep } from '../state/store';
import { useBench } from '../state/use-bench';

function OpenMenu({ host }: { host: Host }): React.JSX.Element {
  const [recent, setRecent] = useState<RecentJob[]>([]);
  const menu = useRef<HTMLDetailsElement>(null);
  const close = (run: () => void) => () => {
    if (menu.current) menu.current.open = false;
    run();
  };
  useEffect(() => {
    const away = (e: PointerEvent): void => {
      if (menu.current?.open && !menu.current.contains(e.target as Node)) menu.current.open = false;
    };
    window.addEventListener('pointerdown', away, true);
    return () => window.removeEventListener('pointerdown', away, true);
  }, []);
  return (
    <details
      className="menu"
      ref={menu}
      onToggle={() =>
        void host.recent().then(
          (jobs) => setRecent(jobs),
          () => setRecent([]),
        )
      }
    >
      <summary>Open</summary>
      <div className="menu-list">
        <button type="button" onClick={close(() => void openFile())}>
          A job file…
        </button>
        {recent.length > 0 && <span className="menu-head">Lately</span>}
        {recent.slice(0, 6).map((job) => (
          <button key={job.token} type="button" title={job.where} onClick={close(() => void openRecentFile(job.token))}>
            {job.name}
          </button>
        ))}
        <span className="menu-head">Examples</span>
        {EXAMPLES.map((e) => (
          <button key={e.name} type="button" onClick={close(() => void openExample(e.name))}>
            {e.words}
          </button>
        ))}
      </div>
    </details>
  );
}

function UnitChoice<K extends keyof ShownUnits>({
  label,
  unit,
  options,
}: {
  label: string;
  unit: K;
  options: readonly (readonly [ShownUnits[K], string])[];
}): React.JSX.Element {
  const value = useBench((s) => s.units[unit]);
  return (
    <select
      aria-label={label}
      title={label}
      value={value}
      onChange={(e) => setUnits({ [unit]: e.target.value } as Partial<ShownUnits>)}
    >
      {options.map(([v, words]) => (
        <option key={v} value={v}>
          {words}
        </option>
      ))}
    </select>
  );
}

/** Name of the job, files, undo, units, light and dark. */
export function Header({ host }: { host: Host }): React.JSX.Element {
  const title = useBench((s) => s.history.present.title);
  const file = useBench((s) => s.file);
  const unsaved = useBench(isUnsaved);
  const back = useBench((s) => s.history.past.at(-1)?.label ?? null);
  const forth = useBench((s) => s.history.future[0]?.label ?? null);
  const theme = useBench((s) => s.theme);
  const picker = useRef<HTMLInputElement>(null);
  useEffect(() => {
    document.title = `${unsaved ? '• ' : ''}${title || 'Lidwright'} — Lidwright`;
  }, [title, unsaved]);
  return (
    <header className="top">
      <strong className="mark">Lidwright</strong>
      <div className="job-name">
        <span className="job-title">{title}</span>
        <span className="job-file">
          {file.name}
          {unsaved ? ' · not saved' : file.token === null ? ' · example' : ' · saved'}
        </span>
      </div>
      <div className="tools">
        <OpenMenu host={host} />
        <button type="button" onClick={() => void saveFile()} title="Save (Ctrl+S)">
          Save
        </button>
        <button type="button" onClick={() => void saveFile(true)} title="Save under another name (Ctrl+Shift+S)">
          Save as
        </button>
        <button
          type="button"
          className="strong"
          onClick={() => picker.current?.click()}
          title="Trace your own lid from a side photo"
        >
          Start from my photo
        </button>
        <input
          ref={picker}
          type="file"
          hidden
          aria-label="Photo to start from"
          accept="image/jpeg,image/png,image/webp"
          onChange={(e) => {
            const chosen = e.target.files?.[0];
            e.target.value = '';
            if (chosen) void startFromPhoto(chosen);
          }}
        />
      </div>
      <div className="tools">
        <button
          type="button"
          disabled={back === null}
          onClick={undoStep}
          title={back ? `Undo: ${back} (Ctrl+Z)` : 'Nothing to undo'}
        >
          Undo
        </button>
        <button
          type="button"
          disabled={forth === null}
          onClick={redoStep}
          title={forth ? `Redo: ${forth} (Ctrl+Y)` : 'Nothing to redo'}
        >
          Redo
        </button>
        <button type="button" onClick={askFit} title="Show the whole lid in every view">
          Fit
        </button>
      </div>
      <div className="tools">
        <UnitChoice
          label="Lengths shown in"
          unit="length"
          options={[
            ['mm', 'mm'],
            ['cm', 'cm'],
            ['in', 'in'],
          ]}
        />
        <UnitChoice
          label="Forces shown in"
          unit="force"
          options={[
            ['N', 'N'],
            ['kgf', 'kgf'],
            ['lbf', 'lbf'],
          ]}
        />
        <UnitChoice
          label="Temperatures shown in"
          unit="temperature"
          options={[
            ['degC', '°C'],
            ['degF', '°F'],
          ]}
        />
        <button type="button" onClick={toggleTheme}>
          {theme === 'light' ? 'Dark' : 'Light'}
        </button>
      </div>
    </header>
  );
}
