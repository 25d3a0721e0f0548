// Hands a text to the browser as a file, network or none.

export function download(name: string, type: string, text: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type: `${type};charset=utf-8` }));
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  const longEnough_ms = 60_000;
  setTimeout(() => URL.revokeObjectURL(link.href), longEnough_ms);
}
