#include "tune/book.h"

#include "base/file.h"
#include "tune/abc/abc_file.h"
#include "tune/document.h"

enum hbk_status hbk_tune_book_read(const char *path, struct hbk_tune_book *book,
                                   struct hbk_faults *faults)
{
    enum { FILE_MAX = 1024 * 1024 };
    char *bytes = NULL;
    size_t length = 0;
    HBK_TRY(
        hbk_file_read(path, FILE_MAX, &book->arena, &bytes, &length, faults));
    const size_t n = hbk_abc_count_tunes(bytes, length);
    const size_t room = n == 0 ? 1 : n;
    book->documents =
        HBK_ARENA_ARRAY(&book->arena, struct hbk_tune_document, room);
    book->tunes = HBK_ARENA_ARRAY(&book->arena, const struct hbk_tune *, room);
    while (book->n < room) {
        struct hbk_tune_document *const document = &book->documents[book->n];
        book->tunes[book->n++] = &document->tune;
        const struct hbk_tune_options options = {.nth = n == 0 ? 0 : book->n,
                                                 .keep_about = true};
        HBK_TRY(hbk_tune_read_bytes(path, bytes, length, &options, document,
                                    faults));
    }
    return HBK_OK;
}

void hbk_tune_book_finish(struct hbk_tune_book *book)
{
    for (size_t i = 0; i < book->n; i++) {
        hbk_tune_document_finish(&book->documents[i]);
    }
    hbk_arena_finish(&book->arena);
    *book = (struct hbk_tune_book){0};
}
