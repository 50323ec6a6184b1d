import { KeysMenu } from './keys-menu';
import { useEffect, useRef, useState } from 'react';
import type { ShownUnits } from '../../core/quantity';
import type { Host, RecentJob } from '../host/host';
import { EXAMPLES, openExample, openFile, openRecentFile, saveFile } from '../state/files';
import { askFit, showGuide, toggleTheme } from '../state/session';
import { showStart } from '../state/start';
import { isUnsaved, redoStep, setUnits, undoStep } from '../state/store';
import { useHolding } from '../state/unentered';
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
      className="menu open-menu"
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
        {recent.length > 0 && <span className="menu-head">Recent</span>}
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

/** Steps that the list of undo names. */
const NAMED_STEPS = 15;

/** The last steps by name, the newest first; one is undone together with all after it. */
function UndoList(): React.JSX.Element {
  const menu = useRef<HTMLDetailsElement>(null);
  const past = useBench((s) => s.history.past);
  return (
    <details className="menu" ref={menu}>
      <summary aria-label="Earlier steps" title="Earlier steps, by name">
        ▾
      </summary>
      <div className="menu-list">
        <span className="menu-head">{past.length === 0 ? 'Nothing to undo' : 'Go back to before'}</span>
        {past
          .slice(-NAMED_STEPS)
          .reverse()
          .map(({ label }, i) => (
            <button
              key={past.length - i}
              type="button"
              onClick={() => {
                for (let k = 0; k <= i; k++) undoStep();
                menu.current!.open = false;
              }}
            >
              {label}
            </button>
          ))}
      </div>
    </details>
  );
}

/** The open job: its name, its file, undo. */
function JobTools({ host }: { host: Host }): React.JSX.Element {
  const title = useBench((s) => s.history.present.title);
  const file = useBench((s) => s.file);
  const typing = useHolding();
  const unsaved = useBench(isUnsaved) || typing;
  const back = useBench((s) => s.history.past.at(-1)?.label ?? null);
  const forth = useBench((s) => s.history.future[0]?.label ?? null);
  return (
    <>
      <div className="job-name">
        <span className="job-title">{title}</span>
        <span className="job-file">
          {file.name}
          {unsaved ? ' · not saved' : file.token === null ? ' · example' : ' · saved'}
        </span>
      </div>
      <div className="tools">
        <button type="button" onClick={showStart} title="Begin another job: from a photo, from sizes, from an example">
          New
        </button>
        <OpenMenu host={host} />
        <button type="button" onClick={() => void saveFile()} title="Save (Ctrl+S)">
          Save
        </button>
        <button type="button" onClick={() => void saveFile(true)} title="Save under another name (Ctrl+Shift+S)">
          Save as
        </button>
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
        <UndoList />
        <button
          type="button"
          disabled={forth === null}
          onClick={redoStep}
          title={forth ? `Redo: ${forth} (Ctrl+Y)` : 'Nothing to redo'}
        >
          Redo
        </button>
        <button type="button" onClick={askFit} title="Show the whole lid in every view">
          Show all
        </button>
      </div>
    </>
  );
}

/** What is seen above everything: the open job, where there is one to see; units, light and dark. */
export function Header({ host }: { host: Host }): React.JSX.Element {
  const hidden = useBench((s) => s.startPage || s.wizard !== null);
  const title = useBench((s) => (s.startPage || s.wizard ? '' : s.history.present.title));
  const page = useBench((s) => (s.startPage ? 'start' : s.wizard ? 'photograph' : s.stage));
  const typing = useHolding();
  const unsaved = useBench(isUnsaved) || typing;
  const theme = useBench((s) => s.theme);
  useEffect(() => {
    document.title = title ? `${unsaved ? '• ' : ''}${title} — Lidwright` : 'Lidwright';
  }, [title, unsaved]);
  return (
    <header className="top">
      <strong className="mark">
        <svg width="22" height="18" viewBox="0 0 22 18" aria-hidden="true">
          <path d="M1 16h17M18 16L5.5 4" className="mark-ink" />
          <path d="M8 16l4-6" className="mark-strut" />
          <circle cx="18" cy="16" r="1.8" className="mark-hinge" />
        </svg>
        Lidwright
      </strong>
      {hidden ? <span className="job-name" /> : <JobTools host={host} />}
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
        <button
          type="button"
          onClick={() => showGuide(page)}
          title="The whole job, stage by stage; what each finding means"
        >
          Guide
        </button>
        <KeysMenu />
        <button type="button" onClick={toggleTheme}>
          {theme === 'light' ? 'Dark' : 'Light'}
        </button>
      </div>
    </header>
  );
}
