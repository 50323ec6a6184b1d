import { useEffect, useState } from 'react';
import type { Host } from './host/host';
import { Header } from './bench/header';
import { Notices } from './bench/notices';
import { QuestionBox } from './bench/question';
import { Recovery } from './bench/recovery';
import { StartPage } from './start/start-page';
import { openFile, saveFile } from './state/files';
import { closeGuide, leaveTool } from './state/session';
import { bench, notify, redoStep, undoStep } from './state/store';
import { useBench } from './state/use-bench';
import { leaveSurface } from './state/mount-tool';
import { leaveZone } from './state/zone-tool';
import type { Guide } from './guide';
import type { Work } from './work';

/** Closes the menus that are open, the focus back where each was opened. */
function closeMenus(): void {
  for (const menu of document.querySelectorAll<HTMLDetailsElement>('details.menu[open]')) {
    if (menu.contains(document.activeElement)) menu.querySelector('summary')?.focus();
    menu.open = false;
  }
}

/** Keys that work everywhere: those that every desktop has for open, save, undo and redo. */
function useKeys(): void {
  useEffect(() => {
    const key = (e: KeyboardEvent): void => {
      if (!(e.ctrlKey || e.metaKey) || e.altKey) {
        if (e.key === 'Escape') {
          closeMenus();
          if (bench.getState().tool) leaveTool();
          leaveZone();
          leaveSurface();
        }
        return;
      }
      const what = e.key.toLowerCase();
      // a field where text is typed has an undo of its own; a slider has none, nor a field whose text was taken
      const inText = (e.target as HTMLElement).matches(
        'textarea, input:not([type=range], [type=checkbox], [data-settled])',
      );
      if (what === 'o') void openFile();
      else if (bench.getState().startPage) return;
      else if (what === 's') void saveFile(e.shiftKey);
      else if (what === 'z' && !inText) (e.shiftKey ? redoStep : undoStep)();
      else if (what === 'y' && !inText) redoStep();
      else return;
      e.preventDefault();
    };
    window.addEventListener('keydown', key);
    return () => window.removeEventListener('keydown', key);
  }, []);
}

/** What works on a job comes while the start page is shown: it is two thirds of the program. */
function useWork(): typeof Work | null {
  const [work, setWork] = useState<typeof Work | null>(null);
  useEffect(() => {
    void import('./work').then((part) => setWork(() => part.Work));
  }, []);
  return work;
}

/** The guide comes when it is first opened. */
function GuideDoor(): React.JSX.Element | null {
  const at = useBench((s) => s.guide);
  const [Shown, setShown] = useState<typeof Guide | null>(null);
  useEffect(() => {
    if (!at || Shown) return;
    import('./guide').then(
      (part) => setShown(() => part.Guide),
      () => {
        closeGuide();
        notify('The guide could not be loaded. It is read again when you press Guide.', 'bad');
      },
    );
  }, [at, Shown]);
  return at && Shown && <Shown at={at} />;
}

export function App({ host }: { host: Host }): React.JSX.Element {
  const theme = useBench((s) => s.theme);
  const startPage = useBench((s) => s.startPage);
  const Work = useWork();
  useEffect(() => {
    document.documentElement.dataset['theme'] = theme;
  }, [theme]);
  useKeys();
  return (
    <div className="bench">
      <button type="button" className="skip" onClick={() => document.querySelector<HTMLElement>('.middle')?.focus()}>
        To the middle of the bench
      </button>
      <Header host={host} />
      <Recovery host={host} />
      {startPage ? <StartPage host={host} /> : Work && <Work host={host} />}
      <Notices />
      <QuestionBox />
      <GuideDoor />
    </div>
  );
}
