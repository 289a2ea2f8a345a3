/**
 * Small texts that the browser keeps: `local` for this address, `tab` for this tab. Where it refuses (blocked,
 * full, a private window) they last as long as the page, and nothing throws.
 */
function keeper(open: () => Storage) {
  const held = new Map<string, string>();
  const attempt = <T>(act: (area: Storage) => T): T | undefined => {
    try {
      return act(open());
    } catch {
      return undefined;
    }
  };
  return {
    getItem: (name: string): string | null => held.get(name) ?? attempt((area) => area.getItem(name)) ?? null,
    setItem(name: string, text: string): void {
      const kept = attempt((area) => (area.setItem(name, text), true));
      if (kept) held.delete(name);
      else held.set(name, text);
    },
    removeItem(name: string): void {
      held.delete(name);
      attempt((area) => area.removeItem(name));
    },
  };
}

export const local = keeper(() => localStorage);
export const tab = keeper(() => sessionStorage);
