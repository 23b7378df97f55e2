#ifndef HBK_RENDER_QPDF_H
#define HBK_RENDER_QPDF_H

#include <qpdf/qpdf-c.h>

/*
 * For the files of this folder only: the functions of libqpdf that are used,
 * without its prefix. The library is loaded when the first PDF is made: with
 * those it needs in turn it takes half as long to start as all other libraries
 * of the program, and no command should wait for it that makes none.
 */
#define HBK_QPDF_FUNCTIONS(X)                                                  \
    X(cleanup)                                                                 \
    X(get_buffer)                                                              \
    X(get_buffer_length)                                                       \
    X(get_error)                                                               \
    X(get_error_full_text)                                                     \
    X(get_info_key)                                                            \
    X(get_num_pages)                                                           \
    X(get_object_by_id)                                                        \
    X(get_page_n)                                                              \
    X(get_root)                                                                \
    X(has_error)                                                               \
    X(init)                                                                    \
    X(init_write_memory)                                                       \
    X(make_indirect_object)                                                    \
    X(oh_append_item)                                                          \
    X(oh_get_array_item)                                                       \
    X(oh_get_dict)                                                             \
    X(oh_get_key)                                                              \
    X(oh_get_numeric_value)                                                    \
    X(oh_get_object_id)                                                        \
    X(oh_get_page_content_data)                                                \
    X(oh_new_array)                                                            \
    X(oh_new_dictionary)                                                       \
    X(oh_new_integer)                                                          \
    X(oh_new_null)                                                             \
    X(oh_new_stream)                                                           \
    X(oh_parse)                                                                \
    X(oh_replace_key)                                                          \
    X(oh_replace_stream_data)                                                  \
    X(read_memory)                                                             \
    X(replace_object)                                                          \
    X(set_deterministic_ID)                                                    \
    X(set_minimum_pdf_version)                                                 \
    X(set_suppress_warnings)                                                   \
    X(silence_errors)                                                          \
    X(write)

#define HBK_QPDF_FIELD(name) __typeof__ (&qpdf_##name)(name);

struct hbk_qpdf {
    HBK_QPDF_FUNCTIONS(HBK_QPDF_FIELD)
};

/* The functions, or NULL where the library or one of them is not there. */
const struct hbk_qpdf *hbk_qpdf_load(void);

#endif
