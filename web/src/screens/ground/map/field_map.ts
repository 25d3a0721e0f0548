// The map of one field: OpenLayers with nothing of its own to see, in the field's plane, without any tile server.
import Feature from 'ol/Feature.js';
import Map from 'ol/Map.js';
import View from 'ol/View.js';
import { Circle, MultiPolygon, Point as PointGeometry } from 'ol/geom.js';
import { DragPan, KeyboardPan, KeyboardZoom, MouseWheelZoom, PinchZoom } from 'ol/interaction.js';
import Kinetic from 'ol/Kinetic.js';
import VectorLayer from 'ol/layer/Vector.js';
import VectorImageLayer from 'ol/layer/VectorImage.js';
import type BaseLayer from 'ol/layer/Base.js';
import Projection from 'ol/proj/Projection.js';
import VectorSource from 'ol/source/Vector.js';
import type Style from 'ol/style/Style.js';
import type { Lie } from '../../../engine/ground_answers.ts';
import type { Grid } from '../contours.ts';
import type { Point, Polygon } from '../plane.ts';
import { inside } from '../polygon.ts';
import type { Picture, Placing } from '../relief_picture.ts';
import { contourFeatures, type Heights } from './contour_features.ts';
import { reliefLayer } from './relief_layer.ts';
import { accuracyStyle, borderStyle, checkStyle, numberStyle, positionStyle, zoneStyle } from './styles.ts';

/** Plain metres: the field's plane takes care of where on earth they are. */
const projection = new Projection({ code: 'field', units: 'm', getPointResolution: (resolution) => resolution });

export interface ZoneOnMap {
  number: number;
  lie: Lie;
  words: string;
  polygons: Polygon[];
}
export interface Check {
  at: Point;
  words: string;
}
export type LayerName = 'relief' | 'contours' | 'zones' | 'checks';

type Group = 'border' | 'contours' | 'zones' | 'numbers' | 'checks';

/** What is higher is painted over what is lower. */
function styled(feature: Feature, styles: Style[], height: number): Feature {
  for (const one of styles) one.setZIndex(height);
  feature.setStyle(styles);
  return feature;
}

const closed = (polygons: Polygon[]) => polygons.map((polygon) => polygon.map((ring) => (ring[0] ? [...ring, ring[0]] : [])));
export const geometryOf = (polygons: Polygon[]): MultiPolygon => new MultiPolygon(closed(polygons));

const most_px_per_m = 12;
const widest_m_per_px = 60;
const glide_ms = 220;

export class FieldMap {
  readonly map: Map;
  readonly #view: View;
  readonly #border = new VectorSource();
  readonly #zones = new VectorSource();
  readonly #own = new VectorSource();
  /** All that stays while the map moves: painted once, half a map further than is seen, and moved as one picture. */
  readonly #still = new VectorSource();
  /** Likewise, over that: numbers of zones and what was looked at, where of words that would cover each other one is written. */
  readonly #signs = new VectorSource();
  readonly #groups: Record<Group, Feature[]> = { border: [], contours: [], zones: [], numbers: [], checks: [] };
  readonly #hidden = new Set<LayerName | Group>();
  #relief: BaseLayer | undefined;
  readonly #isCalm: boolean;

  constructor(target: HTMLElement, { isCalm, onview }: { isCalm: boolean; onview: (metresPerPixel: number) => void }) {
    this.#isCalm = isCalm;
    // Round a whole zoom there is no reason to be: a field fills the map as it can.
    this.#view = new View({ projection, center: [0, 0], resolution: 1, minResolution: 1 / most_px_per_m, maxResolution: widest_m_per_px, enableRotation: false, constrainResolution: false, smoothResolutionConstraint: !isCalm });
    this.map = new Map({
      target,
      view: this.#view,
      controls: [],
      interactions: [
        new DragPan(isCalm ? {} : { kinetic: new Kinetic(-0.005, 0.05, 100) }),
        new PinchZoom(),
        new MouseWheelZoom({ onFocusOnly: true }),
        new KeyboardPan({ pixelDelta: 96, duration: isCalm ? 0 : 100 }),
        // At once: a second press would cut a glide short, and be lost.
        new KeyboardZoom({ duration: 0 }),
      ],
      layers: [new VectorImageLayer({ source: this.#still, imageRatio: 2, zIndex: 2 }), new VectorImageLayer({ source: this.#signs, imageRatio: 2, zIndex: 5, declutter: true }), new VectorLayer({ source: this.#own, zIndex: 8, updateWhileAnimating: true, updateWhileInteracting: true })],
    });
    this.#view.on('change:resolution', () => onview(this.#view.getResolution() ?? 1));
    onview(1);
  }

  end(): void {
    this.map.setTarget(undefined);
    this.map.dispose();
  }

  setBorder(polygons: Polygon[] | undefined): void {
    this.#border.clear();
    if (polygons) this.#border.addFeature(styled(new Feature(geometryOf(polygons)), borderStyle, 4));
    this.#put('border', this.#border.getFeatures());
  }
  #put(group: Group, features: Feature[]): void {
    const source = group === 'numbers' || group === 'checks' ? this.#signs : this.#still;
    source.removeFeatures(this.#groups[group]);
    this.#groups[group] = features;
    if (!this.#hidden.has(group === 'numbers' ? 'zones' : group)) source.addFeatures(features);
  }

  setZones(zones: ZoneOnMap[], here: number | undefined): void {
    this.#zones.clear();
    this.#zones.addFeatures(zones.map(({ number, lie, polygons }) => styled(new Feature(geometryOf(polygons)), zoneStyle(lie, number === here), 3)));
    const numbers = zones.map(({ number, lie, words, polygons }) => styled(new Feature(new PointGeometry(inside(polygons))), numberStyle(number, lie, words), 6));
    this.#put('zones', this.#zones.getFeatures());
    this.#put('numbers', numbers);
  }

  setRelief(relief: { picture: Picture; placing: Placing } | undefined): void {
    if (this.#relief) this.map.removeLayer(this.#relief);
    this.#relief = relief && reliefLayer(relief.picture, relief.placing);
    if (!this.#relief) return;
    this.#relief.setZIndex(1);
    this.#relief.setVisible(!this.#hidden.has('relief'));
    this.map.addLayer(this.#relief);
  }
  setContours(of: { grid: Grid; placing: Placing; heights: Heights } | undefined): void {
    this.#put('contours', of ? contourFeatures(of.grid, of.placing, of.heights) : []);
  }
  setChecks(checks: Check[]): void {
    this.#put('checks', checks.map(({ at, words }) => styled(new Feature(new PointGeometry(at)), checkStyle(words), 5)));
  }
  /** `bearing`: radians clockwise from north, of who moves. */
  setPosition(position: { at: Point; accuracy_m: number; bearing: number | undefined } | undefined): void {
    this.#own.clear();
    if (!position) return;
    const round = new Feature(new Circle(position.at, position.accuracy_m));
    round.setStyle(accuracyStyle);
    const mark = new Feature(new PointGeometry(position.at));
    mark.setStyle(positionStyle(position.bearing));
    this.#own.addFeatures([round, mark]);
  }

  show(layer: LayerName, isShown: boolean): void {
    if (this.#hidden.has(layer) !== isShown) return;
    if (isShown) this.#hidden.delete(layer);
    else this.#hidden.add(layer);
    if (layer === 'relief') this.#relief?.setVisible(isShown);
    else this.#put(layer, this.#groups[layer]);
    if (layer === 'zones') this.#put('numbers', this.#groups.numbers);
  }

  /** All of it on the map; where each corner is to be reached, clear of the buttons too. */
  fit(points: Point[], within: 'frame' | 'reach' = 'frame'): void {
    if (!points.length) return;
    const [easts, norths] = [points.map((one) => one[0]), points.map((one) => one[1])];
    this.#view.cancelAnimations();
    this.#goal = undefined;
    const edge_px = 34;
    const buttons_px = 92;
    this.#view.fit([Math.min(...easts), Math.min(...norths), Math.max(...easts), Math.max(...norths)], { padding: [edge_px, within === 'reach' ? buttons_px : edge_px, edge_px, edge_px] });
  }
  zoom(by: number): void {
    // Pressed again under way, it goes on from where it was going.
    const zoom = (this.#goal ?? this.#view.getZoom() ?? 0) + by;
    if (this.#isCalm) return this.#view.setZoom(zoom);
    this.#goal = zoom;
    this.#view.animate({ zoom, duration: glide_ms }, (isOver) => isOver && (this.#goal = undefined));
  }
  /** To a place, near enough to see what is about it. */
  follow(at: Point): void {
    const near_m_per_px = 0.8;
    if ((this.#view.getResolution() ?? 1) > near_m_per_px && !this.#hasFollowed) this.#view.setResolution(near_m_per_px);
    this.#hasFollowed = true;
    if (this.#isCalm || this.#goal !== undefined) this.#view.setCenter(at);
    else this.#view.animate({ center: at, duration: glide_ms });
  }
  #goal: number | undefined;
  #hasFollowed = false;
  /** Metres for each pixel. */
  get resolution(): number {
    return this.#view.getResolution() ?? 1;
  }
  get middle(): Point {
    return (this.#view.getCenter() ?? [0, 0]) as Point;
  }
  /** Where outlines that are drawn hold on to what is there. */
  get fixed(): VectorSource[] {
    return [this.#border, this.#zones];
  }
}
