// Where somebody is in the app: the part of the address after #, so that it works from the cache.

class Route {
  parts = $state.raw<string[]>(read());
  constructor() {
    addEventListener('hashchange', () => {
      this.parts = read();
      scrollTo(0, 0);
    });
  }
  get screen(): string {
    return this.parts[0] ?? 'today';
  }
}

function read(): string[] {
  return location.hash.replace(/^#\/?/, '').split('/').filter(Boolean).map(decodeURIComponent);
}

export const route = new Route();
export const hrefOf = (...parts: string[]): string => `#/${parts.map(encodeURIComponent).join('/')}`;
export const go = (...parts: string[]): void => {
  location.hash = hrefOf(...parts);
};
