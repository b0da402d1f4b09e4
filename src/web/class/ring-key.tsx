const KEY = [
  ['done', 'done'],
  ['work', 'at work'],
  ['rest', 'resting'],
  ['ready', 'ready'],
  ['open', 'not started'],
  ['notch', 'hold point'],
  ['sign', 'to sign'],
  ['repair', 'to repair'],
] as const;

/** What the shapes of the ring mean. */
export function RingKey() {
  return (
    <ul className="ring-key" aria-label="What the shapes mean">
      {KEY.map(([look, words]) => (
        <li key={look}>
          <svg width="30" height="18" viewBox="0 0 30 18" aria-hidden="true" className="ring">
            {look === 'notch' ? (
              <path className="open" d="M1 3H11L15 9L19 3H29V15H1Z" />
            ) : look === 'sign' ? (
              <>
                <path className="open" d="M1 6H29V15H1Z" />
                <path className="sign" d="M9 1H21L15 12Z" />
              </>
            ) : look === 'repair' ? (
              <>
                <path className="done" d="M1 3H29V15H1Z" />
                <path className="repair-gap" d="M13 0L17 8L13 10L17 18" />
                <path className="repair" d="M13 0L17 8L13 10L17 18" />
              </>
            ) : (
              <path className={look} d="M1 3H29V15H1Z" />
            )}
          </svg>
          {words}
        </li>
      ))}
    </ul>
  );
}
