// The outcomes by ear: clear rises, hold repeats one note, do not use falls, low and long. A beep says that
// something was taken, a buzz that it was not.
const TUNES = {
  clear: [[660, 0, 0.12], [990, 0.13, 0.18]],
  hold: [[520, 0, 0.12], [520, 0.2, 0.12]],
  'do-not-use': [[330, 0, 0.25], [196, 0.27, 0.5]],
  taken: [[880, 0, 0.09]],
  refused: [[180, 0, 0.3]],
};
let ears = null;

export function tone(name) {
  try {
    ears ??= new AudioContext();
    ears.resume();
    for (const [pitch, start, length] of TUNES[name] ?? []) {
      const voice = ears.createOscillator();
      const volume = ears.createGain();
      const from = ears.currentTime + start;
      voice.frequency.value = pitch;
      voice.type = name === 'do-not-use' || name === 'refused' ? 'square' : 'sine';
      volume.gain.setValueAtTime(0.0001, from);
      volume.gain.exponentialRampToValueAtTime(0.25, from + 0.015);
      volume.gain.exponentialRampToValueAtTime(0.0001, from + length);
      voice.connect(volume).connect(ears.destination);
      voice.start(from);
      voice.stop(from + length);
    }
  } catch { /* a browser without sound */ }
}
