import { type FormEvent, useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { capital } from '../../quantity/words.ts';
import type { Minutes, Operation } from '../../route/route-types.ts';
import { operationName, placeName } from '../class/class-names.ts';
import { Says } from '../parts/says.tsx';
import { OwnPicture } from './own-picture.tsx';
import { sendPhoto } from './send-photo.ts';
import type { TryEdit } from './try-edit.ts';

interface EditProps {
  readonly state: ClassState;
  readonly operation: Operation;
  readonly canEdit: boolean;
  readonly isOff: boolean;
  readonly tryEdit: TryEdit;
}

/** One operation opened: what it says, and what the teacher may change. */
export function OperationEdit(props: EditProps) {
  const { state, operation: o, canEdit, isOff, tryEdit } = props;
  const [says, setSays] = useState('');
  return (
    <div className="op-body">
      <p>{o.ownText ?? o.good}</p>
      {o.link && (
        <p>
          <a className="link" href={o.link} rel="noreferrer noopener" target="_blank">
            {o.link}
          </a>
        </p>
      )}
      {o.photo && <OwnPicture key={o.photo} hash={o.photo} name={o.name} />}
      <dl>
        <dt>After</dt>
        <dd>{o.after.map((a) => operationName(state, a)).join(', ') || 'nothing'}</dd>
        <dt>With</dt>
        <dd>{o.jigs.map((j) => placeName(state, j)).join(', ') || 'no jig'}</dd>
        <dt>Read</dt>
        <dd>
          {o.readings
            .filter((r) => r.need !== 'may')
            .map((r) => r.name)
            .join(', ') || 'nothing'}
        </dd>
      </dl>
      <ol className="parts">
        {o.parts.map((p, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: parts have no identity but their order
          <li key={i}>
            {capital(p.what)}, at the {p.at.map((s) => placeName(state, s)).join(' or ')}
            {canEdit ? (
              <MinutesForm
                key={p.minutes.likely}
                minutes={p.minutes}
                onKeep={(minutes) => tryEdit({ what: 'minutes', op: o.id, part: i + 1, minutes })}
              />
            ) : (
              <span className="q">, {p.minutes.likely} min</span>
            )}
          </li>
        ))}
      </ol>
      {canEdit && <OwnWords {...props} />}
      {canEdit && <OwnJig {...props} />}
      {canEdit && (
        <>
          <button
            type="button"
            className="btn sm"
            onClick={() => setSays(tryEdit({ what: isOff ? 'switch-on' : 'switch-off', op: o.id }) ?? '')}
          >
            {isOff ? 'Switch on again' : 'Switch off for this course'}
          </button>
          <Says words={says} isFault />
        </>
      )}
    </div>
  );
}

function MinutesForm({
  minutes,
  onKeep,
}: {
  readonly minutes: Minutes;
  readonly onKeep: (minutes: Minutes) => string | undefined;
}) {
  const [text, setText] = useState([minutes.low, minutes.likely, minutes.high].map(String));
  const [says, setSays] = useState('');
  const keep = (event: FormEvent) => {
    event.preventDefault();
    const [low = Number.NaN, likely = Number.NaN, high = Number.NaN] = text.map((t) =>
      t.trim() === '' ? Number.NaN : Number(t),
    );
    if (!(low >= 0 && low <= likely && likely <= high && high <= 1440)) {
      setSays(`Minutes are "${text.join('", "')}"; they must grow from quick to slow, between 0 and 1440.`);
      return;
    }
    setSays(onKeep({ low, likely, high }) ?? '');
  };
  return (
    <form className="minutes" onSubmit={keep}>
      {(['quick', 'likely', 'slow'] as const).map((word, i) => (
        <label key={word}>
          {word}
          <input
            className="fld"
            inputMode="numeric"
            value={text[i] ?? ''}
            onChange={(e) => setText(text.map((t, j) => (j === i ? e.target.value : t)))}
          />
        </label>
      ))}
      <button type="submit" className="btn sm">
        Keep minutes
      </button>
      <Says words={says} isFault />
    </form>
  );
}

/** The teacher's own text, link and picture. */
function OwnWords({ operation: o, tryEdit }: EditProps) {
  const [text, setText] = useState(o.ownText ?? '');
  const [link, setLink] = useState(o.link ?? '');
  const [says, setSays] = useState('');
  const keep = (event: FormEvent) => {
    event.preventDefault();
    const faults = [
      text.trim() !== '' && text !== o.ownText
        ? tryEdit({ what: 'text', op: o.id, text: text.trim() })
        : undefined,
      link.trim() !== '' && link !== o.link
        ? tryEdit({ what: 'link', op: o.id, url: link.trim() })
        : undefined,
    ].filter((f) => f !== undefined);
    setSays(faults.join(' ') || 'Kept.');
  };
  const photo = async (file: File | undefined) => {
    if (!file) return;
    const sent = await sendPhoto('shop:main', file);
    setSays(
      'hash' in sent ? (tryEdit({ what: 'photo', op: o.id, hash: sent.hash }) ?? 'Kept.') : sent.message,
    );
  };
  return (
    <form className="own-words" onSubmit={keep}>
      <label>
        What good looks like, in your words
        <textarea className="fld" rows={3} value={text} onChange={(e) => setText(e.target.value)} />
      </label>
      <label>
        A link to a clip or page of your own
        <input className="fld" value={link} onChange={(e) => setLink(e.target.value)} />
      </label>
      <label>
        A picture or short clip
        <input
          type="file"
          accept="image/jpeg,image/png,image/webp,video/mp4,video/webm"
          onChange={(e) => void photo(e.target.files?.[0])}
        />
      </label>
      <button type="submit" className="btn sm">
        Keep words
      </button>
      <Says words={says} />
    </form>
  );
}

/** A jig the teacher made for this step; how many there are limits who can work at it at once. */
function OwnJig({ state, operation: o, tryEdit }: EditProps) {
  const [name, setName] = useState('');
  const [count, setCount] = useState('1');
  const [says, setSays] = useState('');
  const keep = (event: FormEvent) => {
    event.preventDefault();
    const many = Number(count.trim());
    if (name.trim() === '' || !Number.isInteger(many) || many < 1 || many > 99) {
      setSays(
        name.trim() === ''
          ? 'The jig has no name yet; give it one.'
          : `There are "${count}" of it; give a whole number between 1 and 99.`,
      );
      return;
    }
    const own = state.route.jigs.filter((j) => j.id.startsWith('own-jig-')).length + 1;
    const fault = tryEdit({
      what: 'jig',
      jig: { id: `own-jig-${own}`, name: name.trim(), count: many },
      ops: [o.id],
    });
    setSays(fault ?? 'Added.');
    if (!fault) setName('');
  };
  return (
    <form className="own-jig" onSubmit={keep}>
      <label>
        A jig of your own for this step
        <input className="fld" value={name} onChange={(e) => setName(e.target.value)} />
      </label>
      <label>
        How many
        <input className="fld" inputMode="numeric" value={count} onChange={(e) => setCount(e.target.value)} />
      </label>
      <button type="submit" className="btn sm">
        Add the jig
      </button>
      <Says words={says} />
    </form>
  );
}
