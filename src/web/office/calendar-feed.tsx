import { useEffect, useState } from 'react';
import type { CourseNow } from '../class/use-course.ts';
import { Says } from '../parts/says.tsx';
import { askServer } from '../record/record-server.ts';

interface Feed {
  readonly path: string | null;
  readonly time_zone?: string;
}

const zone = (): string => new Intl.DateTimeFormat().resolvedOptions().timeZone;

/** The sessions in a calendar program: an address to subscribe to, or a file. */
export function CalendarFeed({ course }: { readonly course: CourseNow }) {
  const { courseId } = course;
  const [feed, setFeed] = useState<Feed>();
  const [says, setSays] = useState('');
  const url = `/api/courses/${courseId}/calendar`;
  const ask = async (method: 'GET' | 'POST' | 'DELETE', body?: object, done = '') => {
    const answer = await askServer<Feed>(method, url, body);
    if (answer.kind === 'answer') setFeed(answer.value);
    setSays(
      answer.kind === 'answer'
        ? done
        : answer.kind === 'refused'
          ? answer.message
          : 'The server cannot be reached just now; try again.',
    );
  };
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked once for a course
  useEffect(() => void ask('GET'), [courseId]);
  const make = () => ask('POST', { time_zone: zone() }, 'Made. An older address opens nothing any more.');
  const address = feed?.path ? `${location.origin}${feed.path}` : undefined;
  return (
    <section>
      <h2 className="hd">Sessions in a calendar</h2>
      <p className="q2">
        A calendar program that subscribes to the address below follows when sessions move or fall out.
        Whoever knows the address can read the times of the sessions and nothing else; nobody is named. It
        works only while the server can be reached from the device that asks.
      </p>
      {address && (
        <>
          <label className="feed">
            Secret address, times as in {feed?.time_zone}
            <input className="fld" readOnly value={address} onFocus={(e) => e.target.select()} />
          </label>
          {location.hostname === 'localhost' && (
            <p className="q2">
              This page stands under “localhost”, so the address works on this machine alone; open the page
              under the workshop’s address for one that works elsewhere.
            </p>
          )}
        </>
      )}
      <div className="acts">
        {address && <CopyButton words={address} />}
        <button type="button" className="btn" onClick={() => void make()}>
          {address ? 'Make a new address' : 'Make an address'}
        </button>
        {address && (
          <button
            type="button"
            className="btn"
            onClick={() => void ask('DELETE', {}, 'Taken away: the address opens nothing any more.')}
          >
            Take the address away
          </button>
        )}
        <a
          className="btn"
          href={`/api/courses/${courseId}/sessions.ics?time_zone=${encodeURIComponent(zone())}`}
          download
        >
          Take the sessions as a file
        </a>
      </div>
      <Says words={says} />
    </section>
  );
}

function CopyButton({ words }: { readonly words: string }) {
  const [says, setSays] = useState('');
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(words);
      setSays('Copied');
    } catch {
      setSays('Select the address and copy it by hand');
    }
  };
  return (
    <button type="button" className="btn" onClick={() => void copy()}>
      {says === '' ? 'Copy the address' : says}
    </button>
  );
}
