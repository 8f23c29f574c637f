#include <catch2/catch.hpp>

#include <sys/stat.h>

#include <fstream>

#include "loadlight/system/copy_files.h"
#include "system/scratch_folder.h"

namespace loadlight::tests {
namespace {

using core::EventKind;
using core::instant_from;
using system::CopyFiles;

port::QueuedAct act(char mark, EventKind kind = EventKind::PackageChecked, std::string subject = "8Q4T0ZK3MW") {
  return {std::string(32, mark), kind, instant_from(1764072187123), "CD", std::move(subject), {{"copy", "3"}, {"why", "a\tb\n\"ü\""}}};
}

// A copy that was taken at 1000.
struct Copy final {
  Copy() : files(folder.path() + "/copy") {
    REQUIRE(files.prepare());
    REQUIRE(*files.stamp({}, instant_from(1000)));
  }
  std::vector<std::string> ids() const {
    std::vector<std::string> list;
    const auto queued = files.queued();
    REQUIRE(queued);
    for (const port::QueuedAct& each : *queued) list.push_back(each.id);
    return list;
  }
  void write(const std::string& name, const std::string& text) const {
    std::ofstream{folder.path() + "/copy/" + name} << text;
  }

  ScratchFolder folder;
  CopyFiles files;
};

}  // namespace

TEST_CASE("A copy that was outdated while it was taken is none") {
  Copy copy;
  const auto before = *copy.files.state();
  REQUIRE(before.taken == instant_from(1000));
  REQUIRE(copy.files.outdate());
  REQUIRE_FALSE(copy.files.state()->taken);
  REQUIRE_FALSE(*copy.files.stamp(before, instant_from(2000)));
  REQUIRE_FALSE(copy.files.state()->taken);
  REQUIRE(*copy.files.stamp(*copy.files.state(), instant_from(2000)));
  REQUIRE(copy.files.state()->taken == instant_from(2000));
}

TEST_CASE("What is queued comes back as it was and in its order") {
  Copy copy;
  REQUIRE(*copy.files.append(act('a'), instant_from(1000)));
  REQUIRE(*copy.files.append(act('b', EventKind::PackageOpened), instant_from(1000)));
  const auto queued = *CopyFiles{copy.folder.path() + "/copy"}.queued();
  REQUIRE(queued.size() == 2);
  REQUIRE(queued[0].id == act('a').id);
  REQUIRE(queued[1].kind == EventKind::PackageOpened);
  REQUIRE(queued[1].at == act('b').at);
  REQUIRE(queued[1].operator_code == "CD");
  REQUIRE(queued[1].subject == act('b').subject);
  REQUIRE(queued[1].details == act('b').details);
}

TEST_CASE("No package is queued twice as opened nor anything by a copy that is no longer there") {
  Copy copy;
  REQUIRE(*copy.files.append(act('a', EventKind::PackageOpened), instant_from(1000)));
  REQUIRE_FALSE(*copy.files.append(act('b', EventKind::PackageOpened), instant_from(1000)));
  REQUIRE(*copy.files.append(act('c', EventKind::PackageOpened, "7Q4T0ZK3MW"), instant_from(1000)));
  REQUIRE_FALSE(*copy.files.append(act('d'), instant_from(1001)));
  REQUIRE(copy.files.outdate());
  REQUIRE_FALSE(*copy.files.append(act('e'), instant_from(1000)));
  REQUIRE(copy.ids() == std::vector{act('a').id, act('c').id});
}

TEST_CASE("What is settled is forgotten with the copy that lacks it and what came since stays") {
  Copy copy;
  for (const char mark : {'a', 'b', 'c'}) REQUIRE(*copy.files.append(act(mark), instant_from(1000)));
  REQUIRE(copy.files.settle({act('a').id, act('b').id}));
  REQUIRE(copy.ids() == std::vector{act('c').id});
  REQUIRE_FALSE(copy.files.state()->taken);
}

TEST_CASE("Files of a copy that cannot be made out are damaged and never empty") {
  Copy copy;
  REQUIRE(*copy.files.append(act('a'), instant_from(1000)));
  for (const char* text : {"{", "{}\n", "\n", "{\"id\":\"a\"}\n"}) {
    copy.write("queue", text);
    REQUIRE(copy.files.queued().failure().code == core::FailureCode::RecordDamaged);
    REQUIRE_FALSE(copy.files.append(act('b'), instant_from(1000)));
    REQUIRE_FALSE(copy.files.settle({act('a').id}));
  }
  for (const char* text : {"", "1", "1 1000", "x 1000\n", "1 x\n", "1 -5\n", "1 1000\n\n"}) {
    copy.write("state", text);
    CAPTURE(text);
    REQUIRE(copy.files.state().failure().code == core::FailureCode::RecordDamaged);
    REQUIRE_FALSE(copy.files.stamp({1, {}}, instant_from(2000)));
  }
  REQUIRE(copy.files.outdate());
  REQUIRE_FALSE(copy.files.state()->taken);
}

TEST_CASE("The files of a copy are their owner's alone") {
  Copy copy;
  REQUIRE(*copy.files.append(act('a'), instant_from(1000)));
  for (const char* name : {"", "/state", "/queue", "/lock", "/record"}) {
    struct stat held {};
    CAPTURE(name);
    REQUIRE(::stat((copy.folder.path() + "/copy" + name).c_str(), &held) == 0);
    REQUIRE((held.st_mode & (S_IRWXG | S_IRWXO)) == 0);
  }
}

}  // namespace loadlight::tests
