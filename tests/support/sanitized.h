#ifndef HBK_TESTS_SANITIZED_H
#define HBK_TESTS_SANITIZED_H

/*
 * Whether the test is built with the address sanitizer, which makes laying
 * out sheets some twenty times slower: a test that goes through every horn
 * and paper may then take a part of them, since the other builds take all.
 */
#if defined(__SANITIZE_ADDRESS__)
#define IS_SANITIZED 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define IS_SANITIZED 1
#endif
#endif
#ifndef IS_SANITIZED
#define IS_SANITIZED 0
#endif

#endif
