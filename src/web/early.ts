// Runs before anything else is loaded: asks who this device is, and for people and events when it has kept none yet, so
// that they come together with the page and not after it. `askServer` takes the answers from here. Plain script, built
// like the service worker; nothing is imported.
(() => {
  if (location.pathname.startsWith('/pattern')) return;
  const ask = (path: string): Promise<Response> => {
    const answer = fetch(path, { headers: { accept: 'application/json' } });
    // who takes the answer hears of a fault
    answer.catch(() => undefined);
    return answer;
  };
  const asked = new Map<string, Promise<Response>>();
  Object.assign(window, { asked });
  const me = ask('/api/me');
  asked.set('/api/me', me);
  const isNew = indexedDB
    .databases()
    .then((all) => !all.some((d) => d.name === 'bracewright-record'))
    .catch(() => false);
  void Promise.all([me.then((r) => r.clone().json() as Promise<{ readonly role?: string }>), isNew])
    .then(([{ role }, isFirst]) => {
      if (!isFirst || role === undefined || role === 'nobody') return;
      for (const path of ['/api/people', '/api/events?after=0']) asked.set(path, ask(path));
    })
    .catch(() => undefined);
})();
