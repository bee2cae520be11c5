// Before the first paint: what the reader chose, light or dark, so that the page does not flash.
try {
  const chosen = localStorage.getItem("railfault.scheme");
  if (chosen === "light" || chosen === "dark") document.documentElement.dataset.scheme = chosen;
} catch {
  // Storage is forbidden: the page follows the device.
}
