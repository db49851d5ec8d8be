// Shows the progress of long work; the page itself tells everything when it is loaded again.

const lines = document.getElementById("lines");

async function look(seen) {
  let work;
  try {
    const answer = await fetch(`${lines.dataset.address}?seen=${encodeURIComponent(seen)}`, { credentials: "same-origin" });
    work = await answer.json();
  } catch {
    setTimeout(() => look(""), 3000); // the laptop sleeps or the phone is out of reach: ask again
    return;
  }
  if (work.state !== "running") {
    location.replace(work.state === "done" ? work.then : lines.dataset.page);
    return;
  }
  lines.replaceChildren(
    ...work.lines.map((line) => {
      const item = document.createElement("li");
      item.textContent = line;
      return item;
    }),
  );
  look(work.seen); // answered as soon as there is something new
}

look(lines.dataset.seen);
