"""What the pose scripts have in common: reading the problem, judging the answers as path_errors.h does, timing."""
import json
import math
import time

SILENT_LENGTH, SILENT_ANGLE = 1e-5, 1e-4  # m, rad; as in peers/path_errors.h


def load(path):
    with open(path, encoding="ascii") as file:
        return json.load(file)


def judge(k, found, solved):
    """Worst errors of the poses called solved; how many of them are wrong; how many are called unsolved."""
    worst_length = worst_angle = 0.0
    silent = 0
    right = zip(k["pitch"], k["length"], k["tractor_angle"], k["implement_angle"])
    for (pitch, length, first, second), answer, ok in zip(found, right, solved):
        if not ok:
            continue
        off = abs(length - answer[1])
        angle = max(abs(math.remainder(pitch - answer[0], 2.0 * math.pi)), abs(first - answer[2]), abs(second - answer[3]))
        silent += not (off <= SILENT_LENGTH and angle <= SILENT_ANGLE)
        worst_length, worst_angle = max(worst_length, off), max(worst_angle, angle)
    return {"mm": 1000.0 * worst_length, "deg": math.degrees(worst_angle), "silent": silent,
            "given_up": len(solved) - sum(solved)}


def time_poses(run, poses, seconds):
    """Nanoseconds of the processor a pose, as Google Benchmark counts them: the median of runs for about that long."""
    run()
    times, end = [], time.perf_counter() + seconds
    while len(times) < 3 or time.perf_counter() < end:
        begin = time.process_time()
        run()
        times.append(time.process_time() - begin)
    return sorted(times)[len(times) // 2] / poses * 1e9


def report(name, nanoseconds, errors):
    print(json.dumps({"name": name, "ns": nanoseconds, **errors}))
