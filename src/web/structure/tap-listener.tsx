import { useRef, useState } from 'react';
import { analyseTaps, type TapNote } from '../../mechanics/tap-spectrum.ts';
import { type Recording, readWav } from '../../mechanics/wav-samples.ts';
import { InputError } from '../../quantity/input-error.ts';
import { tapAdvice } from '../../wood/board-readings.ts';

type NoteKey = 'along_hz' | 'across_hz' | 'twist_hz';
const kinds = [
  ['along_hz', 'along', tapAdvice.along],
  ['across_hz', 'across', tapAdvice.across],
  ['twist_hz', 'in twist', tapAdvice.twist],
] as const;
const listenMs = 8000;

/** Listens to taps on a board, or reads a recording of them, and puts the note into the form. */
export function TapListener({ onNote }: { readonly onNote: (key: NoteKey, hz: number) => void }) {
  const [key, setKey] = useState<NoteKey>('along_hz');
  const [notes, setNotes] = useState<readonly TapNote[]>([]);
  const [says, setSays] = useState('');
  const [isListening, setListening] = useState(false);
  const recorder = useRef<MediaRecorder>(undefined);
  const [, kind, advice] = kinds.find(([k]) => k === key) ?? kinds[0];

  const analyse = (recording: Recording): void => {
    try {
      const answer = analyseTaps(recording);
      setNotes(answer.notes);
      setSays(`${answer.tapsS.length} taps heard; choose the note of this board ${kind}.`);
    } catch (error) {
      setNotes([]);
      if (!(error instanceof InputError)) throw error;
      setSays(error.message);
    }
  };
  const readFile = async (file: File): Promise<void> => {
    try {
      analyse(readWav(new Uint8Array(await file.arrayBuffer())));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      setNotes([]);
      setSays(error.message);
    }
  };
  const listen = async (): Promise<void> => {
    const stream = await openMicrophone();
    if (typeof stream === 'string') {
      setSays(stream);
      return;
    }
    const chunks: Blob[] = [];
    const made = new MediaRecorder(stream);
    recorder.current = made;
    made.addEventListener('dataavailable', (e) => chunks.push(e.data));
    made.addEventListener('stop', () => {
      for (const track of stream.getTracks()) track.stop();
      setListening(false);
      void decoded(new Blob(chunks)).then((recording) =>
        recording
          ? analyse(recording)
          : setSays('The sound could not be read; record a WAV file or type the note.'),
      );
    });
    made.start();
    setListening(true);
    setSays('Listening for 8 seconds: be quiet for one second, then tap five times.');
    window.setTimeout(() => made.state === 'recording' && made.stop(), listenMs);
  };

  return (
    <div className="s-taps">
      <h3>Tap notes</h3>
      <p className="q2">
        Half plate, held by {advice.hold}. Strike {advice.strike}; listen {advice.listen}.
      </p>
      <p className="s-row">
        <label>
          Note{' '}
          <select value={key} onChange={(e) => setKey(e.target.value as NoteKey)}>
            {kinds.map(([k, words]) => (
              <option key={k} value={k}>
                {words}
              </option>
            ))}
          </select>
        </label>
        <button
          type="button"
          className="btn sm"
          onClick={() => (isListening ? recorder.current?.stop() : void listen())}
        >
          {isListening ? 'Enough' : 'Listen by microphone'}
        </button>
        <label>
          Recording, WAV{' '}
          <input
            type="file"
            accept=".wav,audio/wav"
            onChange={(e) => {
              const file = e.target.files?.[0];
              if (file) void readFile(file);
            }}
          />
        </label>
      </p>
      <p role="status">{says}</p>
      {notes.length > 0 ? (
        <ul className="s-notes">
          {notes.slice(0, 5).map((note) => (
            <li key={note.frequencyHz}>
              <button type="button" className="btn sm" onClick={() => onNote(key, note.frequencyHz)}>
                {note.frequencyHz.toFixed(1)} ± {note.plusMinusHz.toFixed(1)} Hz
              </button>{' '}
              <span className="q2">confidence {(100 * note.confidenceFrac).toFixed(0)} %</span>
            </li>
          ))}
        </ul>
      ) : null}
    </div>
  );
}

/** The microphone, or a sentence why there is none. */
async function openMicrophone(): Promise<MediaStream | string> {
  const typed = 'Use a recorded WAV file, or type the note you read elsewhere.';
  if (!window.isSecureContext || !navigator.mediaDevices)
    return `This address is not secure, so the browser gives no microphone. ${typed}`;
  try {
    return await navigator.mediaDevices.getUserMedia({
      audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false },
    });
  } catch (error) {
    const why = (error as DOMException).name === 'NotAllowedError' ? 'was refused' : 'is not there';
    return `The microphone ${why}. ${typed}`;
  }
}

async function decoded(blob: Blob): Promise<Recording | undefined> {
  const context = new AudioContext();
  try {
    const sound = await context.decodeAudioData(await blob.arrayBuffer());
    return { samples: sound.getChannelData(0), sampleRateHz: sound.sampleRate };
  } catch {
    return undefined;
  } finally {
    void context.close();
  }
}
