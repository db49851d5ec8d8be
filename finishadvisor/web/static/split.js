// Moves the border between the bare and the sealed slab.

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
