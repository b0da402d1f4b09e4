import { type FormEvent, useState } from 'react';
import type { ClassState } from '../../course/class-state.ts';
import { incidentsOf, type KeptIncident, NO_HEALTH_WORDS } from '../../course/office/incidents.ts';
import { capital } from '../../quantity/words.ts';
import { isFreeKey } from '../../route/route-check.ts';
import { shopStream } from '../class/acts.ts';
import { day } from '../class/clock-words.ts';
import { Says } from '../parts/says.tsx';
import { enter } from '../record/record.ts';

const KINDS = ['near miss', 'first aid', 'injury', 'damage'] as const;

/** Enters an incident, and closes those that are open. */
export function IncidentForms({ state, isDemo }: { readonly state: ClassState; readonly isDemo: boolean }) {
  const open = incidentsOf(state).filter((i) => i.closed === undefined);
  return (
    <>
      <EnterIncident state={state} isDemo={isDemo} />
      {open.map((i) => (
        <CloseIncident key={i.event} incident={i} />
      ))}
    </>
  );
}

function EnterIncident({ state, isDemo }: { readonly state: ClassState; readonly isDemo: boolean }) {
  const [severity, setSeverity] = useState<(typeof KINDS)[number]>('near miss');
  const [station, setStation] = useState('');
  const [text, setText] = useState('');
  const [followUp, setFollowUp] = useState('');
  const [says, setSays] = useState('');
  const keep = async (event: FormEvent) => {
    event.preventDefault();
    if (text.trim() === '') return setSays('Write what happened first.');
    await enter([
      {
        stream: shopStream(isDemo),
        kind: 'incident',
        body: {
          severity,
          text: text.trim(),
          ...(station === '' ? {} : { station }),
          ...(followUp.trim() === '' ? {} : { followUp: followUp.trim() }),
        },
      },
    ]);
    setText('');
    setFollowUp('');
    setSays('Kept.');
  };
  return (
    <form className="office-form" onSubmit={keep}>
      <p className="wide">
        <strong>Enter an incident.</strong> {NO_HEALTH_WORDS}
      </p>
      <label>
        Kind
        <select
          className="pick"
          value={severity}
          onChange={(e) => setSeverity(e.target.value as typeof severity)}
        >
          {KINDS.map((k) => (
            <option key={k} value={k}>
              {k}
            </option>
          ))}
        </select>
      </label>
      <label>
        Where
        <select className="pick" value={station} onChange={(e) => setStation(e.target.value)}>
          <option value="">somewhere else</option>
          {state.route.stations
            .filter((s) => !isFreeKey(s.key))
            .map((s) => (
              <option key={s.id} value={s.id}>
                {s.name}
              </option>
            ))}
        </select>
      </label>
      <label className="wide">
        What happened
        <input className="fld" maxLength={500} value={text} onChange={(e) => setText(e.target.value)} />
      </label>
      <label className="wide">
        What was done about the cause
        <input
          className="fld"
          maxLength={500}
          value={followUp}
          onChange={(e) => setFollowUp(e.target.value)}
        />
      </label>
      <button type="submit" className="btn">
        Keep incident
      </button>
      <Says words={says} />
    </form>
  );
}

function CloseIncident({ incident }: { readonly incident: KeptIncident }) {
  const [text, setText] = useState('');
  const close = async (event: FormEvent) => {
    event.preventDefault();
    if (text.trim() === '') return;
    await enter([
      {
        stream: incident.stream,
        kind: 'incident-closed',
        body: { incident: incident.event, text: text.trim() },
      },
    ]);
  };
  return (
    <form className="office-form" onSubmit={close}>
      <p className="wide">
        <strong>Open: {capital(incident.severity)}</strong>, {day(incident.atMs)}: {incident.text}
      </p>
      <label className="wide">
        Closed with
        <input className="fld" maxLength={500} value={text} onChange={(e) => setText(e.target.value)} />
      </label>
      <button type="submit" className="btn">
        Close it
      </button>
    </form>
  );
}
