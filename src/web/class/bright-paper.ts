import { useEffect } from 'react';
import { showTheme, usePreferences } from '../frame/preferences.ts';

/** Bench and station pages lie on bright paper, unless the person chose another. */
export function useBrightPaper(): void {
  const { theme } = usePreferences();
  useEffect(() => {
    if (theme !== 'device') return;
    document.documentElement.dataset['theme'] = 'bright';
    return () => showTheme();
  }, [theme]);
}
