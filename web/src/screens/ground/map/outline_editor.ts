// An outline under a finger: a tap sets a corner, a corner is dragged, a side is pulled out into a new one.
import Collection from 'ol/Collection.js';
import Feature from 'ol/Feature.js';
import { MultiPolygon, Point as PointGeometry } from 'ol/geom.js';
import { Interaction, Modify, Snap } from 'ol/interaction.js';
import type MapBrowserEvent from 'ol/MapBrowserEvent.js';
import VectorLayer from 'ol/layer/Vector.js';
import VectorSource from 'ol/source/Vector.js';
import { crossingStyle, drawnStyle, grippedStyle } from './styles.ts';
import { geometryOf, type FieldMap } from './field_map.ts';
import type { Point, Polygon } from '../plane.ts';

/** A thumb in a glove. */
const reach_px = 26;
const snap_px = 18;

/** Taps, after snapping: OpenLayers tells interactions from the last to the first, so this one stands before Snap. */
class Taps extends Interaction {
  readonly #ontap: (at: Point) => void;
  constructor(ontap: (at: Point) => void) {
    super();
    this.#ontap = ontap;
  }
  override handleEvent(event: MapBrowserEvent): boolean {
    if (event.type !== 'click') return true;
    this.#ontap(event.coordinate.slice(0, 2) as Point);
    return false;
  }
}

interface Listening {
  /** A tap on the map. */
  ontap: (at: Point) => void;
  /** A corner was moved, or a side pulled out. */
  onmoved: (polygons: Polygon[]) => void;
}

export class OutlineEditor {
  readonly #map: FieldMap;
  readonly #feature = new Feature<MultiPolygon>();
  readonly #wrong = new Feature<PointGeometry>();
  readonly #held = new Feature<PointGeometry>();
  readonly #layer: VectorLayer;
  readonly #interactions: Interaction[];

  constructor(map: FieldMap, { ontap, onmoved }: Listening) {
    this.#map = map;
    this.#wrong.setStyle(crossingStyle);
    this.#held.setStyle(grippedStyle);
    this.#layer = new VectorLayer({ source: new VectorSource({ features: [this.#feature, this.#held, this.#wrong] }), zIndex: 7, style: drawnStyle, updateWhileInteracting: true });
    const modify = new Modify({ features: new Collection([this.#feature]), pixelTolerance: reach_px, style: grippedStyle });
    modify.on('modifyend', () => {
      const rings = this.#feature.getGeometry()!.getCoordinates() as Point[][][];
      onmoved(rings.map((polygon) => polygon.map((ring) => ring.slice(0, -1).map(([east, north]): Point => [east, north]))));
    });
    this.#interactions = [modify, new Taps(ontap), ...map.fixed.map((source) => new Snap({ source, pixelTolerance: snap_px }))];
    map.map.addLayer(this.#layer);
    for (const one of this.#interactions) map.map.addInteraction(one);
  }

  set(polygons: Polygon[], crossing: Point | undefined, held: Point | undefined): void {
    this.#feature.set('isWrong', crossing !== undefined);
    this.#feature.setGeometry(geometryOf(polygons.filter((polygon) => polygon[0]?.length)));
    this.#wrong.setGeometry(crossing && new PointGeometry(crossing));
    this.#held.setGeometry(held && new PointGeometry(held));
  }

  end(): void {
    for (const one of this.#interactions) this.#map.map.removeInteraction(one);
    this.#map.map.removeLayer(this.#layer);
  }
}
