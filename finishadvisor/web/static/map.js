// The evenness map: the patch whose card is open, and the border between the bare and the sealed slab.

function mark() {
  for (const patch of document.querySelectorAll("a.patch")) {
    patch.classList.toggle("chosen", patch.getAttribute("href") === location.hash);
  }
}
window.addEventListener("hashchange", mark);
mark();

document.querySelectorAll("input.split").forEach((slider) => {
  const side = slider.closest(".map-section").querySelector(".sealed-side");
  const width = Number(side.dataset.width);
  const move = () => {
    const at = (width * slider.value) / 100;
    side.setAttribute("x", String(at));
    side.setAttribute("width", String(width - at));
  };
  slider.addEventListener("input", move);
  move();
});
