import { type FormEvent, useEffect, useMemo, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import { labelOf } from '../../course/class-state.ts';
import { shopOfCourse } from '../../course/shop-of-record.ts';
import { sheetOfPattern } from '../../figures/pattern-sheet.ts';
import { settingCards } from '../../settings/settings-of.ts';
import { coursePattern } from '../class/course-pattern.ts';
import { NoCourse } from '../class/no-course.tsx';
import { type CourseNow, useCourse } from '../class/use-course.ts';
import { Says } from '../parts/says.tsx';
import { useGuardedAt } from '../record/guard.ts';
import { noCameraHere, openCamera, openLook } from './camera.ts';
import { type Known, readCode } from './read-code.ts';
import './scan.css';

/** Finds a part or a card by the code on it: by camera, or typed. */
export function ScanPage() {
  const course = useCourse();
  if (course.record.state === 'loading') return <main id="main" className="scan" data-state="loading" />;
  if (!course.state || course.record.me.role === 'nobody') return <NoCourse course={course} />;
  return <Scan course={course} />;
}

function useKnown({ state }: CourseNow): Known {
  return useMemo(() => {
    if (!state) return { builds: [], cards: [], stations: [] };
    const builds = [...state.course.learners.values()].map((l) => ({
      id: l.build,
      name: labelOf(state, l.person),
      ...(l.number === undefined ? {} : { number: l.number }),
    }));
    const { pattern } = coursePattern(state);
    const cards = settingCards(sheetOfPattern(pattern), shopOfCourse(state));
    return { builds, cards, stations: state.route.stations };
  }, [state]);
}

function Scan({ course }: { readonly course: CourseNow }) {
  const known = useKnown(course);
  const [, goTo] = useLocation();
  const [typed, setTyped] = useState('');
  const [says, setSays] = useState('');
  const open = (text: string): boolean => {
    const found = readCode(text, known);
    if (found.kind === 'says') setSays(found.says);
    else goTo(found.path);
    return found.kind === 'path';
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    open(typed);
  };
  return (
    <main id="main" className="scan" data-state="ready">
      <h1>Find a part or a card</h1>
      <CameraView onCode={open} tell={setSays} />
      <form onSubmit={submit}>
        <label>
          Number on the part tag, a name, or the word over the code of a card
          <input
            className="fld"
            value={typed}
            onChange={(e) => setTyped(e.target.value)}
            autoComplete="off"
            autoCapitalize="none"
            spellCheck={false}
          />
        </label>
        <button type="submit" className="btn">
          Open
        </button>
      </form>
      <Says words={says} isFault />
    </main>
  );
}

interface CameraProps {
  /** Gets what a code says; true ends the looking. */
  readonly onCode: (text: string) => boolean;
  readonly tell: (words: string) => void;
}

function CameraView({ onCode, tell }: CameraProps) {
  const guardedAt = useGuardedAt();
  const video = useRef<HTMLVideoElement>(null);
  const [stream, setStream] = useState<MediaStream>();
  const handle = useRef(onCode);
  handle.current = onCode;
  const start = async () => {
    tell('');
    const opened = await openCamera();
    if (typeof opened === 'string') tell(opened);
    else setStream(opened);
  };
  useEffect(() => {
    const view = video.current;
    if (!stream || !view) return;
    let isOver = false;
    view.srcObject = stream;
    void view.play().catch(() => undefined);
    void openLook().then(async (look) => {
      let last = '';
      while (!isOver) {
        const text = await look(view);
        if (!isOver && text !== undefined && text !== last && handle.current(text)) return;
        last = text ?? last;
        await new Promise((next) => setTimeout(next, 80));
      }
    });
    return () => {
      isOver = true;
      for (const track of stream.getTracks()) track.stop();
    };
  }, [stream]);
  const whyNot = noCameraHere(guardedAt);
  if (whyNot !== undefined) return <p className="q2">{whyNot}</p>;
  return (
    <section className="camera" aria-label="Camera" data-state={stream ? 'looking' : 'off'}>
      {stream ? (
        <>
          <video ref={video} muted playsInline aria-label="What the camera sees" />
          <p className="q2" role="status">
            Hold the code in the middle, a hand’s width away.
          </p>
          <button type="button" className="btn" onClick={() => setStream(undefined)}>
            Stop the camera
          </button>
        </>
      ) : (
        <button type="button" className="btn go" onClick={() => void start()}>
          Use the camera
        </button>
      )}
    </section>
  );
}
