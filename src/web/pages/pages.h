// The pages, as the table of routes names them. Each is in the file named above it.
#pragma once

#include "web/visit.h"

namespace loadlight::web {

// static_files.cpp, live.cpp, choose_language.cpp
Response static_file(Visit& visit);
Response live(Visit& visit);
Response choose_language(Visit& visit);

// sign_in_page.cpp
Response sign_in_page(Visit& visit);
Response sign_in(Visit& visit);
Response sign_in_by_badge(Visit& visit);
Response switch_operator(Visit& visit);
Response sign_out(Visit& visit);

// today.cpp
Response today(Visit& visit);

// check_page.cpp, check_again.cpp
Response check_page(Visit& visit);
Response check_frame(Visit& visit);
Response check_text(Visit& visit);
Response check_again(Visit& visit);

}  // namespace loadlight::web
