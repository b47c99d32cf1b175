// One request in flight, the last one wins: a request that was overtaken answers null.
export function latest() {
  let flight = null;
  return async (address) => {
    flight?.abort();
    const mine = (flight = new AbortController());
    try {
      const response = await fetch(address, { signal: mine.signal });
      const text = await response.text();
      return mine.signal.aborted ? null : { ok: response.ok, url: response.url, text };
    } catch {
      return mine.signal.aborted ? null : { lost: true };
    }
  };
}
