#include "reader/horn_word.h"

#include "reader/horn_file.h"
#include "reader/shipped.h"

enum hbk_status hbk_horn_read_word(const char *word, struct hbk_arena *arena,
                                   struct hbk_horn *horn,
                                   struct hbk_faults *faults)
{
    const char *const path = hbk_shipped_find(word, arena, faults);
    return path == NULL ? HBK_ERR_INPUT : hbk_horn_read(path, horn, faults);
}
