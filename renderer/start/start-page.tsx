import { useEffect, useRef, useState } from 'react';
import type { Job } from '../../core/job';
import { PICTURES } from '../../core/photo';
import type { Host, RecentJob } from '../host/host';
import { EXAMPLES, openDropped, openExample, openFile, openRecentFile, readExample } from '../state/files';
import { startFromPhoto } from '../state/photo-actions';
import { leaveStart } from '../state/start';
import { isTable, takeDroppedTable } from '../state/tables';
import { useBench } from '../state/use-bench';
import { LidPicture } from './lid-picture';
import { SizesForm } from './sizes-form';
import { StandSquare } from './stand-square';

const isPicture = (file: File): boolean => file.type.startsWith('image/') || /\.hei[cf]$/i.test(file.name);

function PhotoWay(): React.JSX.Element {
  const picker = useRef<HTMLInputElement>(null);
  return (
    <section className="way first" aria-label="Start from my photo">
      <h2>Start from my photo</h2>
      <p className="hint">
        Stand square to the lid’s side, the lens at hinge height, some metres off, the lid closed. On the picture: the
        hinge pin, the free edge, where the strut may go, and a rule or tape on the side; upright or across, as it fits.
      </p>
      <StandSquare />
      <button type="button" className="strong big" onClick={() => picker.current?.click()}>
        Choose a photo
      </button>
      <span className="hint">or drop one here, or paste it</span>
      <input
        ref={picker}
        type="file"
        hidden
        aria-label="Photo to start from"
        accept={PICTURES}
        onChange={(e) => {
          const chosen = e.target.files?.[0];
          e.target.value = '';
          if (chosen) void startFromPhoto(chosen);
        }}
      />
    </section>
  );
}

function Example({ name, words, about }: (typeof EXAMPLES)[number]): React.JSX.Element {
  const [job, setJob] = useState<Job | null>(null);
  useEffect(() => {
    // a picture that can't be made is no reason to say anything: opening the example says it
    readExample(name).then(setJob, () => setJob(null));
  }, [name]);
  return (
    <button type="button" className="example" onClick={() => void openExample(name)}>
      <span className="example-picture">{job && <LidPicture job={job} />}</span>
      <b>{words}</b>
      <span className="hint">{about}</span>
    </button>
  );
}

const whenWords = (whenMs: number): string =>
  new Date(whenMs).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });

function Recent({ host }: { host: Host }): React.JSX.Element {
  const [jobs, setJobs] = useState<readonly RecentJob[] | null>(null);
  useEffect(() => {
    host.recent().then(setJobs, () => setJobs(null));
  }, [host]);
  return (
    <section aria-label="Recent jobs">
      <div className="recent-head">
        <h2>Recent</h2>
        <button type="button" onClick={() => void openFile()}>
          Open…
        </button>
      </div>
      {jobs === null && <p className="hint">The list of recent jobs can’t be read here.</p>}
      {jobs?.length === 0 && <p className="hint">No job was opened here yet.</p>}
      <ul className="recent">
        {jobs?.slice(0, 6).map((job) => (
          <li key={job.token}>
            <button type="button" onClick={() => void openRecentFile(job.token)} title={job.where}>
              <b>{job.name}</b>
              <span className="hint">
                {whenWords(job.whenMs)} · {job.where}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Where every job begins: a photo, a few sizes, a file, an example. Nothing of another job is on it. */
export function StartPage({ host }: { host: Host }): React.JSX.Element {
  const open = useBench((s) => (s.history.present.points.length > 0 ? s.history.present.title || s.file.name : null));
  useEffect(() => {
    const paste = (e: ClipboardEvent): void => {
      const file = [...(e.clipboardData?.files ?? [])].find(isPicture);
      if (file) void startFromPhoto(file);
    };
    window.addEventListener('paste', paste);
    return () => window.removeEventListener('paste', paste);
  }, []);
  return (
    <main
      className="start"
      onDragOver={(e) => e.preventDefault()}
      onDrop={(e) => {
        e.preventDefault();
        const file = e.dataTransfer.files[0];
        if (!file) return;
        if (isTable(file)) takeDroppedTable(file);
        else void (isPicture(file) ? startFromPhoto(file) : openDropped(file));
      }}
    >
      <div className="start-left">
        <h1>A gas spring for your heavy lid</h1>
        <p className="start-lead">
          From a photo or a few sizes to the strut to order, the holes to drill, the bracket to make, and the proof that
          it does what was computed.
        </p>
        {open !== null && (
          <p>
            <button type="button" onClick={leaveStart}>
              Back to {open}
            </button>
          </p>
        )}
        <div className="ways">
          <PhotoWay />
          <SizesForm />
        </div>
        <h2>Look at an example</h2>
        <div className="examples">
          {EXAMPLES.map((example) => (
            <Example key={example.name} {...example} />
          ))}
        </div>
      </div>
      <aside className="start-right" aria-label="Recent jobs and what you need">
        <Recent host={host} />
        <h2>What you need</h2>
        <p className="hint">A tape, a phone, a bathroom or luggage scale, and about an hour. No strut yet.</p>
        <p className="caution">
          <b>Before you begin</b>
          <br />
          Prop the lid. A gas spring is under pressure for life: never open, heat, drill or weld near it.
        </p>
      </aside>
    </main>
  );
}
