"""The pipe tree: sections from the node "pump" outwards. For checked documents (one way to each node, no loops)."""

PUMP = "pump"


def spot(document, node):
    """What a person calls a node: by what stands there, else by the pipe that ends there."""
    if node == PUMP:
        return "the pump"
    there = [thing["id"] for thing in document["devices"] + document["switches"] if thing.get("at") == node]
    return ", ".join(there or ["the end of pipe " + section["id"] for section in document["sections"] if section["to"] == node])


class Tree:
    """Nodes and sections of a system's line, walked from the pump.

    order      node names, each after the node it is fed from; the pump first
    section    node -> the section that feeds it
    children   node -> nodes fed from it, in the order of the document
    distance   node -> length of pipe from the pump [m]
    """

    def __init__(self, document):
        self.section = {}
        self.children = {PUMP: []}
        for section in document["sections"]:
            self.section[section["to"]] = section
            self.children.setdefault(section["from"], []).append(section["to"])
            self.children.setdefault(section["to"], [])
        self.order, self.distance = [], {PUMP: 0.0}
        stack = [PUMP]
        while stack:
            node = stack.pop()
            self.order.append(node)
            for child in reversed(self.children[node]):
                self.distance[child] = self.distance[node] + self.section[child]["length_m"]
                stack.append(child)

    def way(self, node):
        """Sections from the pump to the node, in the order of flow."""
        sections = []
        while node != PUMP:
            section = self.section[node]
            sections.append(section)
            node = section["from"]
        return sections[::-1]

    def longest_way(self):
        """Length of the longest way from the pump [m]."""
        return max(self.distance.values())
