// What a screen needs of one field's ground: its outlines in the field's plane, and its relief when that has come.
import { untrack } from 'svelte';
import type { Relief } from '../../engine/ground_answers.ts';
import { ground } from '../../sync/ground.svelte.ts';
import type { Area } from './ahead.ts';
import { planeOf, type Plane, type Point, type Polygon } from './plane.ts';

export class FieldGround {
  readonly field: string;
  relief = $state.raw<Relief | undefined>(undefined);
  wrong = $state('');
  /** One plane as long as the screen is there: what is drawn in it stays where it is. */
  #plane: Plane | undefined;

  constructor(field: string) {
    this.field = field;
    void ground.open();
    $effect(() => {
      void [ground.reliefs, this.known.heights?.at];
      ground.relief(field).then(
        (relief) => untrack(() => (this.relief = relief)),
        (error: Error) => (this.wrong = error.message),
      );
    });
  }

  readonly known = $derived.by(() => ground.of(this.field));
  readonly plane = $derived.by(() => (this.#plane ??= planeOf([this.known.border?.geometry, ...(this.known.zones?.zones.map((one) => one.geometry) ?? [])], this.relief)));
  readonly border = $derived.by((): Polygon[] | undefined => (this.known.border && this.plane ? this.plane.polygons(this.known.border.geometry) : undefined));
  readonly areas = $derived.by((): Area[] => {
    const plane = this.plane;
    return plane ? (this.known.zones?.zones ?? []).map((zone) => ({ zone, polygons: plane.polygons(zone.geometry) })) : [];
  });
  /** What a map has to hold. */
  readonly extent = $derived.by((): Point[] => {
    const outlines = [...(this.border ?? []), ...this.areas.flatMap((one) => one.polygons)].flat(2);
    return outlines.length || !this.relief || !this.plane ? outlines : this.relief.corners.map((corner) => this.plane!.to(corner));
  });
  get isEmpty(): boolean {
    return !this.known.border && !this.known.heights && !this.known.zones;
  }
}
