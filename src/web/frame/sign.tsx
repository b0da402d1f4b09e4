/** The sign: a sound hole lying in the upper fork of the X. One ink; never smaller than 20 px. */
export function Sign({ sizePx = 30 }: { readonly sizePx?: number }) {
  return (
    <svg width={sizePx} height={sizePx} viewBox="0 0 32 32" aria-hidden="true">
      <g fill="none" stroke="currentColor">
        <path d="M5.78 10.3L28.22 30.5M26.22 10.3L3.78 30.5" strokeWidth="3.1" />
        <circle cx="16" cy="8.6" r="5.6" strokeWidth="2.1" />
      </g>
    </svg>
  );
}
