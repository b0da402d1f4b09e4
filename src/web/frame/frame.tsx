import { type ReactNode, useEffect, useRef, useSyncExternalStore } from 'react';
import { Link, useLocation } from 'wouter';
import { Switch } from '../parts/switch.tsx';
import { recordView, subscribeRecord } from '../record/record.ts';
import './frame.css';
import { KeptMark } from './kept-mark.tsx';
import { prefer, type Theme, usePreferences } from './preferences.ts';
import { Sign } from './sign.tsx';
import { Strips } from './strips.tsx';
import { ways } from './ways.ts';

const themeWords: Readonly<Record<Theme, string>> = {
  device: 'Paper: as the device',
  pad: 'Paper: pad, light',
  slate: 'Paper: slate, dark',
  bright: 'Paper: bright, bench',
};

function ThemePick() {
  const { theme } = usePreferences();
  return (
    <select
      className="pick looks"
      aria-label="Paper"
      value={theme}
      onChange={(event) => prefer({ theme: event.target.value as Theme })}
    >
      {Object.entries(themeWords).map(([value, words]) => (
        <option key={value} value={value}>
          {words}
        </option>
      ))}
    </select>
  );
}

function UnitSwitch() {
  const { largeUnit } = usePreferences();
  return (
    <Switch
      label="Large unit"
      options={[
        { value: 'mm', words: 'mm' },
        { value: 'in', words: 'in' },
      ]}
      value={largeUnit}
      onChange={(unit) => prefer({ largeUnit: unit })}
    />
  );
}

/** One line across the top with the sign, the ways, the kept mark and the switches; the page under it. */
export function Frame({ children }: { readonly children: ReactNode }) {
  const [address] = useLocation();
  const { me } = useSyncExternalStore(subscribeRecord, recordView);
  const nav = useRef<HTMLElement>(null);
  // on a phone the ways are moved sideways: the present one stays in sight
  // biome-ignore lint/correctness/useExhaustiveDependencies: looked at anew at every address and for every caller
  useEffect(() => {
    nav.current?.querySelector('[aria-current]')?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }, [address, me.role]);
  const isGuest = me.role === 'learner' || me.role === 'helper';
  return (
    <>
      <a className="skip" href="#main">
        Go to the page
      </a>
      <header className="frame">
        <Link className="mark" href="/" aria-label="Bracewright">
          <Sign />
          <span>Bracewright</span>
        </Link>
        <nav ref={nav} className="ways" aria-label="Parts of the book">
          {ways
            .filter((way) => !(isGuest && way.isTeachers))
            .map((way) => (
              <Link
                key={way.href}
                href={way.href}
                aria-current={way.under.some((u) => address.startsWith(u)) ? 'page' : undefined}
              >
                {way.name}
              </Link>
            ))}
        </nav>
        <span className="sp" />
        <KeptMark />
        <ThemePick />
        <UnitSwitch />
      </header>
      <Strips />
      {children}
    </>
  );
}
