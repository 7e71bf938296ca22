// Prints a path of poses with its answers as JSON, for the scripts of other solvers: bench_problem travel|from_level|askew [POSES]
#include <algorithm>
#include <cstdlib>
#include <iostream>
#include <string>

#include "tests/bench/peers/pose_paths.h"

int main(int argc, char** argv) {
    const std::string path = argc > 1 ? argv[1] : "travel";
    if (path != "travel" && path != "from_level" && path != "askew") {
        std::cerr << "usage: bench_problem travel|from_level|askew [POSES]\n";
        return 2;
    }
    const int poses = argc > 2 ? std::max(2, std::atoi(argv[2])) : 81;
    std::cout << bench::write_problem_json(path == "travel"  ? bench::make_travel_problem(poses)
                                           : path == "askew" ? bench::make_askew_problem(poses)
                                                             : bench::make_problem_from_level(poses));
}
