// A recorded beet is felt and heard, where the person and the browser allow it.
import { choice } from '../../units/choice.svelte.ts';

let audio: AudioContext | undefined;

export function signal(what: 'beet' | 'spot'): void {
  if (!choice.signals) return;
  navigator.vibrate?.(what === 'spot' ? [60, 60, 60] : 30);
  try {
    audio ??= new AudioContext();
    const tone = audio.createOscillator();
    const volume = audio.createGain();
    tone.frequency.value = what === 'spot' ? 880 : 440;
    volume.gain.value = 0.05;
    tone.connect(volume).connect(audio.destination);
    const length_s = what === 'spot' ? 0.25 : 0.06;
    tone.start();
    tone.stop(audio.currentTime + length_s);
  } catch {
    // No sound here: the count goes on all the same.
  }
}
