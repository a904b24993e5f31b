package sqlite

import (
	"fmt"
	"syscall"
)

// Magic numbers of network file systems, from the kernel's list (statfs(2)): 32
// bits each, in a field that is signed and as wide as a word.
var networkFileSystems = map[uint32]string{
	0x6969:     "NFS",
	0x517b:     "SMB",
	0xff534d42: "CIFS",
	0xfe534d42: "SMB2",
	0x01021997: "9P",
	0x73757245: "Coda",
	0x5346414f: "AFS",
}

// refuseNetworkShare returns an error when dir lies on a network share, where
// the locks that the catalogue needs do not hold.
func refuseNetworkShare(dir string) error {
	var st syscall.Statfs_t
	if syscall.Statfs(dir, &st) != nil {
		return nil // no answer is no evidence of a share
	}
	if name, ok := networkFileSystems[uint32(st.Type)]; ok {
		return fmt.Errorf("the data folder %s lies on a network share (%s), where several programs would damage the catalogue: choose a folder on a disk of this machine with --home", dir, name)
	}
	return nil
}
