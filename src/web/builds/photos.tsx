import { type ChangeEvent, useState } from 'react';
import { personOfBuild } from '../class/class-names.ts';
import { when } from '../class/clock-words.ts';
import { Says } from '../parts/says.tsx';
import { enter } from '../record/record.ts';
import { sendPhoto } from '../route/send-photo.ts';
import type { BuildPartProps } from './build-part.ts';

/** Photos of a build: seen by the teacher and by whoever builds it. */
export function Photos(props: BuildPartProps & { readonly maker: string }) {
  const { course, state, build, facts, maker } = props;
  const { me } = course.record;
  const maySee = me.role === 'teacher' || me.build === build;
  const own = facts.photos.filter((p) => maySee || p.by === me.person);
  const consent = state.people.get(personOfBuild(state, build))?.photos ?? 'not asked';
  return (
    <section>
      <h2 className="hd">Photos</h2>
      {facts.photos.length === 0 && <p>No photo yet. The inside before the box is closed is worth one.</p>}
      {own.length < facts.photos.length && (
        <p>{facts.photos.length - own.length} photos are seen by the teacher and the maker only.</p>
      )}
      <ul className="photos">
        {own.map((p) => (
          <li key={p.event}>
            <figure>
              {p.type.startsWith('video/') ? (
                <video controls src={`/api/files/${p.hash}`}>
                  <track kind="captions" />
                </video>
              ) : (
                <img src={`/api/files/${p.hash}`} alt={p.words ?? `Photo of ${when(p.atMs, course.nowMs)}`} />
              )}
              <figcaption>
                {p.words ? `${p.words}, ` : ''}
                {when(p.atMs, course.nowMs)}
              </figcaption>
            </figure>
          </li>
        ))}
      </ul>
      {(maySee || me.role === 'helper') && <AddPhoto build={build} maker={maker} consent={consent} />}
    </section>
  );
}

function AddPhoto(props: { readonly build: string; readonly maker: string; readonly consent: string }) {
  const { build, maker, consent } = props;
  const [words, setWords] = useState('');
  const [says, setSays] = useState('');
  const send = async (event: ChangeEvent<HTMLInputElement>) => {
    const file = event.target.files?.[0];
    event.target.value = '';
    if (!file) return;
    setSays('Sending.');
    const sent = await sendPhoto(`build:${build}`, file);
    if ('message' in sent) return setSays(sent.message);
    const said = words.trim();
    await enter([
      { stream: `build:${build}`, kind: 'photo', body: { ...sent, ...(said ? { words: said } : {}) } },
    ]);
    setWords('');
    setSays('Kept.');
  };
  return (
    <div className="add-photo">
      <p className="q2">
        {consent === 'yes'
          ? `${maker} agreed to photos; other faces only with their own consent.`
          : `Faces only with consent: for ${maker} it is "${consent}". The instrument alone, no faces, no names.`}
      </p>
      <label>
        What it shows
        <input className="fld" value={words} maxLength={120} onChange={(e) => setWords(e.target.value)} />
      </label>
      <label className="btn file">
        Add a photo
        <input
          type="file"
          className="vh"
          accept="image/jpeg,image/png,image/webp,video/mp4,video/webm"
          onChange={(e) => void send(e)}
        />
      </label>
      <Says words={says} />
    </div>
  );
}
