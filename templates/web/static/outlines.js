// Outlines over a camera's picture: a thin line for clear, dashes and a bar for hold, a thick line and a cross for
// do not use.
const WIDTHS = { clear: 4, hold: 5, 'do-not-use': 8, reading: 2 };

function outline(pen, points, outcome, ink, scale) {
  const path = () => {
    pen.beginPath();
    points.forEach(([x, y], i) => (i ? pen.lineTo(x, y) : pen.moveTo(x, y)));
    pen.closePath();
  };
  const width = WIDTHS[outcome] ?? 3;
  pen.setLineDash(outcome === 'hold' ? [14 * scale, 8 * scale] : outcome === 'reading' ? [4 * scale, 6 * scale] : []);
  pen.lineJoin = 'round';
  path(); pen.lineWidth = (width + 3) * scale; pen.strokeStyle = 'rgba(255,255,255,.85)'; pen.stroke();
  path(); pen.lineWidth = width * scale; pen.strokeStyle = ink; pen.stroke();
  pen.setLineDash([]);
  const middle = (a, b) => [(points[a][0] + points[b][0]) / 2, (points[a][1] + points[b][1]) / 2];
  const stroke = (from, to) => { pen.beginPath(); pen.moveTo(...from); pen.lineTo(...to); pen.stroke(); };
  if (outcome === 'do-not-use') { stroke(points[0], points[2]); stroke(points[1], points[3]); }
  if (outcome === 'hold') stroke(middle(0, 3), middle(1, 2));
}

// `labels`: [{corners, outcome}] in pixels of a picture of this size, drawn where `canvas` shows that picture. With
// `picture` they lie on the very picture they were found in, however long the answer took.
export function drawOutlines(canvas, size, labels, picture) {
  const scale = Math.min(2, window.devicePixelRatio || 1);
  const box = canvas.getBoundingClientRect();
  canvas.width = box.width * scale;
  canvas.height = box.height * scale;
  const pen = canvas.getContext('2d');
  const fit = Math.min(canvas.width / size.width, canvas.height / size.height);
  const left = (canvas.width - size.width * fit) / 2;
  const top = (canvas.height - size.height * fit) / 2;
  if (picture) pen.drawImage(picture, left, top, size.width * fit, size.height * fit);
  const style = getComputedStyle(canvas);
  for (const label of labels) {
    const points = label.corners.map(([x, y]) => [left + x * fit, top + y * fit]);
    outline(pen, points, label.outcome, style.getPropertyValue(`--${label.outcome}`) || '#888', scale);
  }
}
