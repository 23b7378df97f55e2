"""An invented collection: horns that differ in what makers differ in.

Every file starts from a shipped horn or from the file before it, and changes
a few things. The same numbers come out each time: nothing is random.
"""
BORED = ["cornet-b-flat-bore", "keyed-bugle-c-6-munich",
         "keyed-bugle-b-flat-7-saxon", "keyed-bugle-e-flat-bore",
         "ophicleide-c-9-museum", "ophicleide-c-11-museum",
         "keyed-trumpet-f-museum", "cornet-b-flat-echo-bell-museum"]
LENGTHS = ["cornet-b-flat", "keyed-bugle-c-6", "alto-e-flat",
           "keyed-bugle-e-flat-9", "cornopean-b-flat",
           "euphonium-b-flat-compensating-4", "horn-f-ascending-third"]


def spread(i, salt, low, high):
    """A number between low and high that looks unlike its neighbours'."""
    return low + (high - low) * ((i * 7919 + salt * 104729) % 997) / 996


def variant(i, base):
    bored = base in BORED
    lines = ["hornbook: 1", f"based_on: {base}",
             f"name: Invented horn {i:03d}", "source: invented",
             f"player_offset: {spread(i, 1, -6, 6):.1f}" if bored else None,
             "tuning: {a4: %.1f, temperature: %.0f}" % (
                 spread(i, 2, 438, 442), spread(i, 3, 18, 22))]
    if bored and "bugle" in base:
        throat = spread(i, 5, 4.6, 5.4)
        lines.append(f"mouthpiece: {{volume: {spread(i, 4, 2.6, 3.6):.2f}, "
                     f"throat: [5, {throat:.1f}], "
                     f"backbore: [[0, {throat:.1f}], [56, 9.0]]}}")
    elif base in LENGTHS:
        lines.append("partials: {lowest: 2, highest: 8, avoid: [7], stretch: "
                     f"{{3: {spread(i, 6, -8, 8):.1f}, "
                     f"5: {spread(i, 7, -8, 8):.1f}}}}}")
    return "\n".join(line for line in lines if line) + "\n"


def make(folder, count, bases):
    """Writes `count` horn files; every third is based on the one before."""
    names = []
    for i in range(count):
        name = f"h{i:03d}.yaml"
        base = names[-1] if i % 3 == 2 else bases[(i // 3 * 2 + i % 3)
                                                  % len(bases)]
        (folder / name).write_text(variant(i, base))
        names.append(name)
    return names
