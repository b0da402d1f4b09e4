import { useEffect, useState } from 'react';
import { CodePicture } from '../parts/code-picture.tsx';
import { Says } from '../parts/says.tsx';
import { askServer } from '../record/record-server.ts';
import './tablets.css';
import { waysToTrust } from './ways-to-trust.ts';

interface Authority {
  readonly fingerprint_sha256: string;
  readonly until_ms: number;
  readonly names: readonly string[];
  readonly secure_address: string;
  readonly http_addresses: readonly string[];
  readonly door: 'this machine' | 'https' | 'http';
}

const CERTIFICATE = '/api/authority/bracewright-workshop';

/** How a device comes to trust the workshop's https door, what that means, and how it is undone. */
export function TabletsPage() {
  const [authority, setAuthority] = useState<Authority>();
  const [says, setSays] = useState('');
  useEffect(() => {
    void askServer<Authority>('GET', '/api/authority').then((answer) => {
      if (answer.kind === 'answer') setAuthority(answer.value);
      else
        setSays(
          answer.kind === 'refused'
            ? answer.message
            : 'The server cannot be reached just now; load this page again when the network is back.',
        );
    });
  }, []);
  if (says === '' && !authority) return <main id="main" className="tablets" data-state="loading" />;
  return (
    <main id="main" className="tablets" data-state={authority ? 'ready' : 'empty'}>
      <h1>Put a tablet on https</h1>
      <p className="lead">
        Learners’ own phones need none of this. The shared tablets and the teacher’s own device do: over https
        the page stays on the device and opens without the network, it may use microphone and camera, and
        signing, keys, limits and settings are taken there.
      </p>
      <Says words={says} isFault />
      {authority && (
        <div className="tablets-grid">
          <Meaning names={authority.names} />
          <Steps authority={authority} />
          <TakeOff />
        </div>
      )}
    </main>
  );
}

function Steps({ authority }: { readonly authority: Authority }) {
  const { door, secure_address, http_addresses } = authority;
  const here = http_addresses.map((a) => new URL('tablets', a).href);
  return (
    <div className="steps">
      {door === 'https' && (
        <p className="here">
          <strong>This device came over https.</strong> When the browser did not warn, it trusts the workshop
          and nothing is left to do but to keep the page: Install, or Add to home screen, in the browser’s
          menu.
        </p>
      )}
      <section className="step">
        <h2>
          <span className="no">1</span> Open this page on the device
        </h2>
        <div className="open-here">
          {here[0] !== undefined && <CodePicture words={here[0]} label={`Code that leads to ${here[0]}`} />}
          <p>
            Scan the code with the device’s camera, or type
            {here.map((address) => (
              <strong className="address" key={address}>
                {address}
              </strong>
            ))}
          </p>
        </div>
      </section>
      <Compare fingerprint={authority.fingerprint_sha256} untilMs={authority.until_ms} />
      <section className="step">
        <h2>
          <span className="no">3</span> Get the certificate and install it
        </h2>
        <p className="acts">
          <a className="btn go" href={`${CERTIFICATE}.crt`}>
            Get the certificate
          </a>
          <a className="btn" href={`${CERTIFICATE}.pem`}>
            Get it as PEM
          </a>
        </p>
        {waysToTrust.map((way) => (
          <details key={way.kind} className="way">
            <summary>{way.kind}</summary>
            <ol>
              {way.install.map((step) => (
                <li key={step}>{step}</li>
              ))}
            </ol>
          </details>
        ))}
        <p className="q">
          Menus differ from device to device. A tablet that the school manages takes it from whoever manages
          it: give them the file and the fingerprint.
        </p>
      </section>
      <section className="step">
        <h2>
          <span className="no">4</span> Open the https door
        </h2>
        <p>
          <a className="address" href={secure_address}>
            {secure_address}
          </a>
        </p>
        <p>
          The browser opens it without a warning. When it warns, go back to step 3 rather than press on. Then
          keep the page on the device: Install, or Add to home screen, in the browser’s menu.
        </p>
      </section>
    </div>
  );
}

/** The fingerprint in rows of eight pairs, as one reads it aloud. */
function Compare({ fingerprint, untilMs }: { readonly fingerprint: string; readonly untilMs: number }) {
  const pairs = fingerprint.split(':');
  const rows = [0, 8, 16, 24].map((from) => pairs.slice(from, from + 8));
  return (
    <section className="step">
      <h2>
        <span className="no">2</span> Compare the fingerprint
      </h2>
      <p className="print" role="img" aria-label={`Fingerprint, SHA-256: ${pairs.join(' ')}`}>
        {rows.map((row) => (
          <span key={row.join()}>{row.join(' ')}</span>
        ))}
      </p>
      <p>
        SHA-256. It stands in the window in which Bracewright was started, and on this page at the machine
        itself. The device shows it when it installs the certificate. If one pair differs, do not install:
        somebody is in between.
      </p>
      <p className="q">Good until {new Date(untilMs).toISOString().slice(0, 10)}.</p>
    </section>
  );
}

function Meaning({ names }: { readonly names: readonly string[] }) {
  return (
    <section className="meaning">
      <h2 className="hd">What this means</h2>
      <p>
        You tell the device to believe one more authority: that of this workshop. The machine Bracewright runs
        on made it, and keeps its key in a file that only its owner can read. It can vouch for nothing but{' '}
        {names.length > 0 && <strong>{names.join(', ')}</strong>}
        {names.length > 0 && ' and '}addresses inside private networks: those that begin with 10., 172.16. to
        172.31., 192.168., 169.254., fc, fd or fe8 to feb, and the device itself. For anything on the internet
        the device refuses it.
      </p>
      <p>
        Whoever gets hold of the key could pretend to be this workshop towards these devices. So put it on the
        workshop’s tablets and the teacher’s device, not on learners’ own phones, and take it off a device
        that leaves.
      </p>
    </section>
  );
}

function TakeOff() {
  return (
    <section className="take-off">
      <h2 className="hd">Take it off again</h2>
      <dl>
        {waysToTrust.map((way) => (
          <div key={way.kind}>
            <dt>{way.kind}</dt>
            <dd>{way.remove}</dd>
          </div>
        ))}
      </dl>
      <p className="q">
        Its name is “Bracewright workshop”, with the name of the machine and the day it was made. What was
        entered on the device and not sent yet stays in the browser until it is sent or the browser’s data are
        removed.
      </p>
    </section>
  );
}
