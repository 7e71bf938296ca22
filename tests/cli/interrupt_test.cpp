// Ctrl-C in the dialogue of "new", with a real process, pipes and signal.
#include <catch2/catch.hpp>

#include <array>
#include <csignal>
#include <string>

#include <sys/wait.h>
#include <unistd.h>

#include "tests/cli/run.h"

using namespace hitchwright::test;

namespace {

/// The program with its standard input and output as pipes.
class Child {
public:
    explicit Child(const std::string& file) {
        std::array<int, 2> to{}, from{};
        REQUIRE(pipe(to.data()) == 0);
        REQUIRE(pipe(from.data()) == 0);
        pid_ = fork();
        REQUIRE(pid_ >= 0);
        if (pid_ == 0) {
            dup2(to[0], STDIN_FILENO);
            dup2(from[1], STDOUT_FILENO);
            dup2(from[1], STDERR_FILENO);
            alarm(60);  // never hangs a run of the tests
            for (const int end : {to[0], to[1], from[0], from[1]}) close(end);
            execl(HITCHWRIGHT_PROGRAM, "hitchwright", "new", "--ask", "-o", file.c_str(), static_cast<char*>(nullptr));
            _exit(127);
        }
        close(to[0]);
        close(from[1]);
        in_ = to[1];
        out_ = from[0];
    }
    ~Child() {
        close(in_);
        close(out_);
    }
    Child(const Child&) = delete;
    Child& operator=(const Child&) = delete;

    void type(const std::string& text) { REQUIRE(write(in_, text.data(), text.size()) == static_cast<ssize_t>(text.size())); }
    /// Reads until the text has come, or the output ends.
    bool wait_for(const std::string& text) {
        std::array<char, 512> buffer{};
        while (seen_.find(text) == std::string::npos) {
            const ssize_t n = read(out_, buffer.data(), buffer.size());
            if (n <= 0) return false;
            seen_.append(buffer.data(), static_cast<std::size_t>(n));
        }
        seen_.erase(0, seen_.find(text) + text.size());
        return true;
    }
    void interrupt(int signal = SIGINT) const { REQUIRE(kill(pid_, signal) == 0); }
    int end() const {
        int status = 0;
        REQUIRE(waitpid(pid_, &status, 0) == pid_);
        return status;
    }

private:
    pid_t pid_ = -1;
    int in_ = -1, out_ = -1;
    std::string seen_;
};

}  // namespace

TEST_CASE("new: a signal at any moment of the dialogue, and more than one, loses nothing", "[cli]") {
    const WorkingFolder folder;
    for (int trial = 0; trial < 20; ++trial) {
        const std::string file = "kept" + std::to_string(trial) + ".toml";
        CAPTURE(trial);
        Child child(file);
        // At once behind the echo of the first answer, where the program may be anywhere between a prompt and its read.
        REQUIRE(child.wait_for("> "));
        child.type("north yard\n");
        REQUIRE(child.wait_for("Unit"));
        child.interrupt(trial % 2 == 0 ? SIGINT : SIGHUP);
        if (trial % 3 == 0) child.interrupt();
        CHECK(child.wait_for("Written: " + file));
        child.end();
        CHECK(contains(read_file(file), "name = \"north yard\""));
    }
}

TEST_CASE("new: Ctrl-C in the dialogue writes what was typed", "[cli]") {
    const WorkingFolder folder;
    Child child("kept.toml");
    REQUIRE(child.wait_for("> "));
    child.type("north yard\n");
    REQUIRE(child.wait_for("Unit of lengths"));
    REQUIRE(child.wait_for("> "));
    child.interrupt();
    CHECK(child.wait_for("nothing typed is lost"));
    const int status = child.end();
    CHECK((WIFEXITED(status) && WEXITSTATUS(status) == 0));
    CHECK(contains(read_file("kept.toml"), "name = \"north yard\""));
}
