#include "pdf_library.hpp"

#include <dlfcn.h>

#include <fmt/format.h>

namespace boardring::cli {

Pdf make_pdf(const std::vector<Drawing>& drawings, const Sheet& sheet, const std::string& title) {
    Pdf pdf;
    // Searched in the folders that cli/CMakeLists.txt writes into the program. It stays loaded: its fonts are in use until the end.
    void* const library = dlopen("libboardring_pdf.so", RTLD_NOW | RTLD_LOCAL);
    const auto write = library != nullptr ? reinterpret_cast<decltype(&boardring_write_pdf)>(dlsym(library, "boardring_write_pdf"))
                                             : nullptr;
    if (write == nullptr) {
        const char* const why = dlerror();
        pdf.trouble = fmt::format("the library that makes them cannot be loaded ({}). libcairo2 is the package it needs.",
                                  why != nullptr ? why : "a part is missing in it");
        return pdf;
    }
    write(drawings, sheet, title, pdf.bytes);
    return pdf;
}

}  // namespace boardring::cli
