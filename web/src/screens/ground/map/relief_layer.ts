// The relief's picture, painted once. While the map moves, only the way it lies on the screen changes.
import type { FrameState } from 'ol/Map.js';
import Layer from 'ol/layer/Layer.js';
import { compose, create, multiply, toString } from 'ol/transform.js';
import type { Picture, Placing } from '../relief_picture.ts';

export function reliefLayer(picture: Picture, { origin, perColumn, perRow }: Placing): Layer {
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = [picture.width, picture.height];
  canvas.getContext('2d')!.putImageData(new ImageData(picture.rgba, picture.width, picture.height), 0, 0);
  Object.assign(canvas.style, { position: 'absolute', left: '0', top: '0', transformOrigin: 'top left', willChange: 'transform' });
  const frame = document.createElement('div');
  frame.className = 'relief';
  Object.assign(frame.style, { position: 'absolute', inset: '0', overflow: 'hidden' });
  frame.append(canvas);
  const { scale } = picture;
  const toPlane = [perColumn[0] / scale, perColumn[1] / scale, perRow[0] / scale, perRow[1] / scale, origin[0], origin[1]];
  return new Layer({
    render(state: FrameState | null): HTMLElement {
      if (!state) return frame;
      const { center, resolution, rotation } = state.viewState;
      const [width, height] = state.size as [number, number];
      const toScreen = compose(create(), width / 2, height / 2, 1 / resolution, -1 / resolution, -rotation, -center[0]!, -center[1]!);
      canvas.style.transform = toString(multiply(toScreen, toPlane));
      return frame;
    },
  });
}
