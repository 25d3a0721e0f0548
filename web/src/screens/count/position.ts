// Where this device is, where somebody wants it noted.
export interface Noted {
  latitude: number;
  longitude: number;
  /** m; 95 % lie within. */
  accuracy: number;
}

const patience_ms = 20_000;
/** Whoever counts stands still: a position from before they walked here is none. */
const oldest_ms = 2_000;
/** So far off, it says nothing of a place in a field. */
const leastSure_m = 1000;

/** Undefined where the device does not know, may not say, or takes too long. */
export function whereNow(): Promise<Noted | undefined> {
  return new Promise((resolve) => {
    if (!('geolocation' in navigator)) return resolve(undefined);
    navigator.geolocation.getCurrentPosition(
      ({ coords: { latitude, longitude, accuracy } }) =>
        resolve(accuracy > leastSure_m ? undefined : { latitude, longitude, accuracy }),
      () => resolve(undefined),
      { enableHighAccuracy: true, maximumAge: oldest_ms, timeout: patience_ms },
    );
  });
}
