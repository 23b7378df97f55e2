#ifndef HBK_SOLVE_BORE_CHAIN_H
#define HBK_SOLVE_BORE_CHAIN_H

#include "acoustics/chain.h"
#include "base/fault.h"
#include "horn/tube.h"
#include "solve/rig.h"

struct hbk_site;

/*
 * The chain of a horn with a bore, as it is set up to be played: mouthpiece,
 * stations, holes and loops as sites in the order of horn->sites, and what
 * the rig puts in (crook, slides, bits) as tube at its place.
 *
 * Where the file gives no place for a slide, crook or bit it goes in at the
 * receiver: behind the shank if the mouthpiece is given apart, else
 * HBK_MOUTHPIECE_REACH_M from the rim. Tube put in has the bore of its place
 * unless its diameter is given. A hole without chimney height has one of
 * HBK_CHIMNEY_USUAL_M.
 */

/* A low saddle or spun chimney; assumed wherever the file is silent. */
#define HBK_CHIMNEY_USUAL_M 0.004

/* Where a hole lies on that axis, m. */
double hbk_bore_hole_m(const struct hbk_horn *horn,
                       const struct hbk_site *site);

/*
 * open_m   length that loops given as a share or in cents refer to
 * chain    result; zero-initialised but for its arena
 *
 * Returns HBK_OK, or HBK_ERR_DOMAIN with the reason in the trade's words.
 */
enum hbk_status hbk_bore_chain(const struct hbk_horn *horn,
                               const struct hbk_rig *rig, double open_m,
                               struct hbk_chain *chain,
                               struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * The same with the main slides whose bits are in `sliding` as loops, in the
 * order of horn->slides at the sites from horn->n_sites on (there must be room
 * for all slides below HBK_CHAIN_SITES_MAX), for whoever moves them: none of
 * them may stand further in than in the file.
 */
enum hbk_status
hbk_bore_chain_sliding(const struct hbk_horn *horn, const struct hbk_rig *rig,
                       double open_m, uint32_t sliding, struct hbk_chain *chain,
                       struct hbk_faults *faults) HBK_MUST_CHECK;

/* The state word of a press: which holes are open and which loops in. */
uint64_t hbk_bore_word(const struct hbk_horn *horn, uint32_t press);

#endif
